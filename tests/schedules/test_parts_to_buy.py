"""Parts to buy: what goes into the harness is counted once, scrap and samples on top."""

import math
from collections import Counter

import pytest

from harnessgen.schedules.parts_to_buy import BuyRow, buy_rows, buy_table
from harnessgen.schedules.wires.sample_crimps import sample_rows, sample_table
from tests.documents.small_designs import CHANGE_OVER, TWO_SUPPLIES
from tests.line import FLAT_SIX, physics_of
from tests.schedules.reading import keyed


def rows_of(text: str) -> tuple[BuyRow, ...]:
    physics = physics_of(text)
    return buy_rows(physics.network, physics)


def of_kind(rows: tuple[BuyRow, ...], kind: str) -> dict[str, BuyRow]:
    return {row.part: row for row in rows if row.kind == kind}


def test_the_parts_of_the_flat_six() -> None:
    """Counted by hand from the design: 7 two-way connectors, both halves of C10, 6 splices, 4 fuses, one relay."""
    rows = rows_of(FLAT_SIX)
    pieces = Counter({(row.kind, row.part): 0 for row in rows if row.unit == "pieces"})
    for row in rows:
        if row.unit == "pieces":
            pieces[row.kind, row.part] += int(row.needed)
    assert pieces["connector", "sealed-2"] == 7
    assert pieces["connector", "sealed-6"] == 2
    assert pieces["connector", "header-26"] == 1
    assert pieces["splice", "barrel-hot"] == 6
    assert pieces["fuse", "blade-medium"] == 4
    assert pieces["relay", "plug-in-make"] == 1
    # C1 has 4 wires in 26 cavities, and each half of C10 has 4 in 6.
    assert pieces["cavity plug", "in place of seal-1.5"] == 22 + 2 + 2
    # The half C10p alone holds pins; sockets are in the injectors, the controller, the other half and the switch.
    assert pieces["terminal", "pin-1.5 pin"] == 4
    assert pieces["terminal", "pin-1.5 socket"] == 12 + 4 + 4 + 2
    assert pieces["seal", "seal-1.5"] == 12 + 4 + 8 + 2


@pytest.mark.parametrize("text", [FLAT_SIX, CHANGE_OVER, TWO_SUPPLIES])
def test_wire_bought_is_wire_cut_and_more(text: str) -> None:
    """The metres in the harness are the cut list's; what is bought is above them by scrap, up to a tenth of a metre."""
    physics = physics_of(text)
    rows = [row for row in buy_rows(physics.network, physics) if row.kind == "wire"]
    assert math.fsum(row.needed for row in rows) == pytest.approx(
        math.fsum(each.cut_mm for each in physics.lengths.values()) / 1000
    )
    for row in rows:
        assert row.extra >= 0.05 * row.needed - 1e-9
        assert row.needed + row.extra - 1e-9 <= row.buy < row.needed + row.extra + 0.1 + 1e-9


@pytest.mark.parametrize("text", [FLAT_SIX, CHANGE_OVER, TWO_SUPPLIES])
def test_every_crimp_has_its_samples(text: str) -> None:
    """Each end with a terminal or a splice counts in one row of the samples; three samples a row; wire for them all."""
    physics = physics_of(text)
    samples = sample_rows(physics.network)
    assert sum(row.crimps for row in samples) == 2 * len(physics.network.wires)
    assert {row.samples for row in samples} == {3}
    rows = buy_rows(physics.network, physics)
    scrap_m = sum(0.05 * row.needed for row in rows if row.kind == "wire")
    extra_m = sum(row.extra for row in rows if row.kind == "wire")
    assert extra_m - scrap_m == pytest.approx(0.150 * 3 * len(samples))
    terminals = of_kind(rows, "terminal")
    for name, row in terminals.items():
        own = [each for each in samples if each.terminal == name and not each.is_splice]
        assert row.needed == sum(each.crimps for each in own)
        assert row.extra == 3 * len(own) + math.ceil(0.05 * row.needed)


def test_wire_that_is_there_is_not_bought() -> None:
    """A wire that was measured, since it is there already, is in no row; another of its colour is."""
    text = CHANGE_OVER.replace(
        "{from: K1/87, to: C1/1, color: GN, size: 0.75 mm2}",
        "{from: K1/87, to: C1/1, color: GN, size: 0.75 mm2, have: 900 mm}",
    )
    words = [row.what for row in rows_of(text) if row.kind == "wire"]
    assert not any("GN" in each for each in words)
    assert any("GN" in row.what for row in rows_of(CHANGE_OVER))


def test_numbers_are_typed_and_allowances_named() -> None:
    """Quantities are numbers with their unit beside them; the notes say how much scrap, and that it has no source."""
    network = physics_of(FLAT_SIX).network
    table = buy_table(network, rows_of(FLAT_SIX))
    assert all(isinstance(cells["buy"], int | float) for cells in keyed(table))
    assert "Scrap of wire and covering is 5 % (" in table.notes[0]
    assert "common practice" in table.notes[0]
    samples = sample_table(network, sample_rows(network))
    assert any("common practice" in note for note in samples.notes)


def test_a_design_sets_its_own_allowances() -> None:
    """No scrap, two samples of 200 mm: what is on top is the samples alone, and the notes say who set them."""
    own = "limits: {wire-scrap: 0, part-scrap: 0, sample-crimps: 2, sample-wire: 200 mm}\n"
    physics = physics_of(FLAT_SIX + own)
    network = physics.network
    samples, rows = sample_rows(network), buy_rows(network, physics)
    assert {row.samples for row in samples} == {2}
    assert math.fsum(row.extra for row in rows if row.kind == "wire") == pytest.approx(0.4 * len(samples))
    assert {row.extra for row in rows if row.kind in ("seal", "covering")} == {0}
    assert "set in the design" in buy_table(network, rows).notes[0]
    assert any("set in the design" in note for note in sample_table(network, samples).notes)
