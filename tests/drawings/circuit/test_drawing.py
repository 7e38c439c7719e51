"""The circuit drawing of real designs: complete, in order from supply to ground, and the same every time."""

from collections import Counter
from dataclasses import replace
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from harnessgen.drawings.circuit.drawing import PlacementUnavailable, circuit_sheets
from harnessgen.drawings.circuit.elements.blocks import wire_words
from harnessgen.network.network import Network
from harnessgen.sheets.box import Box
from harnessgen.sheets.mark_kind import MarkKind
from harnessgen.sheets.marks import Conductor, Mark, Polyline, TextMark
from harnessgen.sheets.preview import PreviewUnavailable, png_bytes
from harnessgen.sheets.sheet import Sheet, sheet_svg
from harnessgen.sheets.svg_writer import ALLOWED
from tests.drawings.circuit.reading import unjoined, words
from tests.drawings.generated import network_of
from tests.sheets.clearance import collisions

DESIGNS = Path(__file__).parents[3] / "designs"
DOTS_PER_MM = 4.0
FLAT_SIX = (DESIGNS / "flat-six.yaml").read_text(encoding="utf-8")


def parts_design(body: str) -> str:
    """A design on a short route from a to b and c."""
    head = "format: 2\nharness: {title: Part, number: P-1, revision: A}\nroute: {a: {b: 100 mm, c: 200 mm}}\n"
    return head + "supplies: {BAT: {voltage: 12 V, at: a}}\n" + body


@pytest.fixture(scope="module")
def flat_six() -> Network:
    return network_of(FLAT_SIX)


@pytest.fixture(scope="module")
def sheet(flat_six: Network) -> Sheet:
    (drawn,) = circuit_sheets(flat_six)
    return drawn


def symbol_top(sheet: Sheet, subject: str) -> float:
    """Upper edge of the symbol or bar of a thing, without its leads and texts."""
    kinds = (MarkKind.SYMBOL, MarkKind.SUPPLY_BAR, MarkKind.PANEL)
    return min(mark.box.y0 for mark in sheet.marks if mark.subject == subject and mark.kind in kinds)


def test_every_wire_carries_its_mark_colour_and_size(flat_six: Network, sheet: Sheet) -> None:
    """Each conductor is drawn once, in its insulation colours, with its words on it."""
    drawn = words(sheet)
    assert drawn["21A RD/YE 0.75"] == drawn["90A BK 1.5"] == 1
    for wire in flat_six.wires:
        assert drawn[wire_words(wire)] == 1
        pieces = [mark for mark in sheet.marks if isinstance(mark, Conductor) and mark.subject == wire.mark]
        assert {(piece.base, piece.stripe) for piece in pieces} == {(wire.colour.base, wire.colour.stripe)}


def test_every_thing_is_named(flat_six: Network, sheet: Sheet) -> None:
    """Designators of devices, connectors, disconnects and splices stand on the drawing as texts of their own."""
    drawn = words(sheet)
    design = flat_six.design
    for named in (design.devices, design.connectors, design.disconnects, design.splices):
        assert [name for name in named if not drawn[name]] == []
    assert drawn["C10"] == 4
    assert drawn["K1"] == 2


def test_main_figures_stand_beside_the_symbols(sheet: Sheet) -> None:
    """Ohms of the injectors, amperes of fuses and outputs, ohms of the relay coil."""
    drawn = words(sheet)
    assert drawn["12 ohm"] == 6
    assert drawn["5 A max"] == 2
    assert drawn["90 ohm"] == 1
    assert drawn["15 A"] == 1


def test_current_flows_down_the_sheet(flat_six: Network, sheet: Sheet) -> None:
    """The supply lies above all fuses, fuses above all loads, loads above drivers, drivers above grounds."""
    design = flat_six.design
    rows = [
        [symbol_top(sheet, name) for name in names]
        for names in (design.supplies, design.fuses, design.loads, design.drivers, design.grounds)
    ]
    for upper, lower in pairwise(rows):
        assert max(upper) < min(lower)


def test_loads_of_a_bank_stand_in_one_row_equally_far_apart(flat_six: Network, sheet: Sheet) -> None:
    """Symbols of a bank have one level and one step."""
    for bank in flat_six.design.banks.values():
        boxes = [
            next(mark.box for mark in sheet.marks if mark.kind is MarkKind.SYMBOL and mark.subject == name)
            for name in bank.loads
        ]
        assert max(box.y0 for box in boxes) - min(box.y0 for box in boxes) < 0.01
        xs = [box.x0 for box in boxes]
        steps = [right - left for left, right in pairwise(xs)]
        assert min(steps) > 0
        assert max(steps) - min(steps) < 0.05


def test_a_trunk_stands_over_the_middle_of_its_legs(sheet: Sheet) -> None:
    """The trunk of a bank of three is in line with the middle leg, so nothing is bent that need not be."""
    (trunk,) = {point[0] for mark in sheet.marks if mark.subject == "21B" for point in points_of(mark)}
    (middle,) = {point[0] for mark in sheet.marks if mark.subject == "21D" for point in points_of(mark)}
    assert trunk == middle


def points_of(mark: Mark) -> tuple[tuple[float, float], ...]:
    return mark.points if isinstance(mark, Conductor) else ()


def test_both_halves_of_a_disconnect_are_lettered_as_they_lie(sheet: Sheet) -> None:
    """A feed passes from sockets to pins, its return from pins to sockets."""
    for cavity, order in (("1", ["s", "p"]), ("3", ["p", "s"])):
        letters = [
            mark
            for mark in sheet.marks
            if isinstance(mark, TextMark) and mark.subject == f"C10/{cavity}" and mark.text in ("s", "p")
        ]
        assert [mark.text for mark in sorted(letters, key=lambda mark: mark.y)] == order


def test_a_relay_has_its_contact_in_the_feed_and_its_coil_elsewhere(sheet: Sheet) -> None:
    """Coil and contact stand apart, each with the designator and its terminals."""
    drawn = words(sheet)
    assert all(drawn[pin] == 1 for pin in ("30", "87", "85", "86"))
    names = [mark for mark in sheet.marks if isinstance(mark, TextMark) and mark.text == "K1"]
    assert abs(names[0].x - names[1].x) > 20


@pytest.mark.parametrize("path", sorted(DESIGNS.glob("*.yaml")), ids=lambda path: path.stem)
def test_nothing_meets_on_any_design(path: Path) -> None:
    """No collision on any sheet, and each wire's words on exactly as many sheets as the wire is drawn on."""
    network = network_of(path.read_text(encoding="utf-8"))
    sheets = circuit_sheets(network)
    for each in sheets:
        assert [str(fault) for fault in collisions(each.all_marks, each.paper.frame)] == []
    drawn = sum((words(each) for each in sheets), Counter())
    assert [wire.mark for wire in network.wires if not drawn[wire_words(wire)]] == []
    assert unjoined(network, sheets) == []


def test_a_joint_that_is_not_drawn_would_be_seen(flat_six: Network, sheet: Sheet) -> None:
    """The reading of joints from the marks is no check that cannot fail."""
    without = replace(sheet, marks=tuple(mark for mark in sheet.marks if mark.subject != "S1"))
    assert unjoined(flat_six, (without,)) == ["21B at S1", "21C at S1", "21D at S1", "21E at S1"]


def test_the_same_design_gives_the_same_bytes(flat_six: Network, sheet: Sheet) -> None:
    """Drawn again from a network built again, the SVG is byte for byte the same."""
    (again,) = circuit_sheets(network_of(FLAT_SIX))
    assert sheet_svg(again) == sheet_svg(sheet)


def test_the_svg_has_only_what_is_allowed(sheet: Sheet) -> None:
    """Each element and each attribute is on the writer's list."""
    root = ElementTree.fromstring(sheet_svg(sheet))
    for element in root.iter():
        name = element.tag.rpartition("}")[2]
        assert set(element.attrib) <= ALLOWED[name]


def test_every_text_leaves_ink_and_the_margin_none(sheet: Sheet) -> None:
    """A second reader of the SVG paints dark points where each text stands, and leaves the margin white."""
    try:
        image = Image.open(BytesIO(png_bytes(sheet_svg(sheet), DOTS_PER_MM))).convert("L")
    except PreviewUnavailable as missing:
        pytest.skip(str(missing))
    assert all(darkest(image, mark.box) < 110 for mark in sheet.marks if isinstance(mark, TextMark))
    frame = sheet.paper.frame
    assert darkest(image, Box(0, 0, sheet.paper.width_mm, frame.y0 - 0.5)) == 255
    assert darkest(image, Box(0, 0, frame.x0 - 0.5, sheet.paper.height_mm)) == 255


def darkest(image: Image.Image, area: Box) -> int:
    """The darkest point of an area given in millimetres, 0 for black."""
    x0, y0, x1, y1 = (round(DOTS_PER_MM * side) for side in (area.x0, area.y0, area.x1, area.y1))
    return min(image.crop((x0, y0, x1, y1)).tobytes())


def test_a_status_is_stamped_on_each_sheet(flat_six: Network) -> None:
    """The status that the caller gives reaches the title strip of every sheet."""
    (stamped,) = circuit_sheets(flat_six, "NOT RELEASED", "2 errors stand")
    texts = {mark.text for mark in stamped.all_marks if isinstance(mark, TextMark)}
    assert {"NOT RELEASED", "2 errors stand", "FS-210, circuit", "1 of 1"} <= texts


def test_without_graphviz_it_says_so(flat_six: Network, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where `dot` is not installed the caller gets an exception of ours with one line that can be shown."""
    monkeypatch.setenv("PATH", "")
    with pytest.raises(PlacementUnavailable, match="Graphviz is not installed; install Graphviz"):
        circuit_sheets(flat_six)


ODD = {
    "a supply alone": "",
    "a spare fuse": "fuses: {F1: {rating: 5 A, at: b}}\n",
    "wires that lead nowhere": """\
connectors: {C1: {part: sealed-4, at: b}}
splices: {S1: a}
circuits:
  1: {from: BAT, to: C1/1, color: RD, size: 1 mm2}
  2: {from: C1/2, to: S1, color: BU, size: 1 mm2}
  3: {from: C1/3, to: C1/4, color: GN, size: 1 mm2}
""",
    "a ring of wires": """\
splices: {S1: a, S2: b, S3: c}
circuits:
  1: {from: BAT, to: S1, color: RD, size: 1 mm2}
  2: {from: S1, to: S2, color: BU, size: 1 mm2}
  3: {from: S2, to: S3, color: GN, size: 1 mm2}
  4: {from: S3, to: S1, color: GN, size: 1 mm2}
""",
    "two relays that reverse a motor": """\
grounds: {G1: {at: c}}
relays: {K1: {part: plug-in-change-over, at: b}, K2: {part: plug-in-change-over, at: b}}
loads: {M1: {kind: motor, power: 50 W, at: c}}
splices: {S1: a, S2: c}
circuits:
  1: {from: BAT, to: [K1/87, K2/87], splice: S1, color: RD, size: 1 mm2}
  2: {from: G1, to: [K1/87a, K2/87a], splice: S2, color: BK, size: 1 mm2}
  3: {from: K1/30, to: M1/1, color: GN, size: 1 mm2}
  4: {from: K2/30, to: M1/2, color: GN/WH, size: 1 mm2}
""",
    "two wires in one cavity": """\
connectors: {C1: {part: sealed-2, at: b}, C2: {part: sealed-2, at: c}}
grounds: {G1: {at: c}}
loads: {E1: {kind: lamp, power: 5 W, connector: C1}, E2: {kind: lamp, power: 5 W, connector: C2}}
circuits:
  1: {from: BAT, to: C1/1, color: RD, size: 1 mm2}
  2: {from: C1/1, to: C2/1, color: RD, size: 1 mm2}
  3: {from: C1/2, to: C2/2, color: BK, size: 1 mm2}
  4: {from: C2/2, to: G1, color: BK, size: 1 mm2}
""",
    "a bus bar that feeds and one that is spare": """\
buses: {B1: {at: b, title: spare bar}, B2: {at: b}}
fuses: {F1: {rating: 5 A, at: b, direct: {in: B2}}, F2: {rating: 5 A, at: b, direct: {in: B2}}}
circuits: {1: {from: BAT, to: B2, color: RD, size: 1 mm2}}
""",
}


@pytest.mark.parametrize("body", ODD.values(), ids=ODD)
def test_unusual_circuits_are_drawn_whole(body: str) -> None:
    """Whatever a design holds is drawn and named, without a collision."""
    network = network_of(parts_design(body))
    (drawn,) = circuit_sheets(network)
    assert [str(fault) for fault in collisions(drawn.all_marks, drawn.paper.frame)] == []
    found = words(drawn)
    assert [name for name in network.design.devices if not found[name]] == []
    assert [wire.mark for wire in network.wires if not found[wire_words(wire)]] == []


def test_a_network_without_anything_has_no_sheet() -> None:
    """There is no empty circuit drawing."""
    head = parts_design("").replace("supplies: {BAT: {voltage: 12 V, at: a}}\n", "")
    assert circuit_sheets(network_of(head)) == ()


def chain(count: int) -> str:
    """A path of fuses in series, each behind a splice: far higher than a sheet."""
    splices = ", ".join(f"S{at}: a" for at in range(count))
    fuses = ", ".join(f"F{at}: {{rating: 5 A, at: a}}" for at in range(count))
    wires = ["  1: {from: BAT, to: F0/in, color: RD, size: 1 mm2}"]
    for at in range(count):
        wires.append(f"  {2 * at + 10}: {{from: F{at}, to: S{at}, color: RD, size: 1 mm2}}")
        following = f"F{at + 1}/in" if at + 1 < count else "E1/1"
        wires.append(f"  {2 * at + 11}: {{from: S{at}, to: {following}, color: RD, size: 1 mm2}}")
    wires.append("  2: {from: E1/2, to: G1, color: BK, size: 1 mm2}")
    head = f"splices: {{{splices}}}\nfuses: {{{fuses}}}\ngrounds: {{G1: {{at: c}}}}\n"
    return head + "loads: {E1: {kind: lamp, power: 5 W, at: c}}\ncircuits:\n" + "\n".join(wires) + "\n"


def test_a_path_higher_than_a_sheet_is_cut_at_wires() -> None:
    """The wire at a cut is drawn on both sides of it, each side with a reference to the other."""
    network = network_of(parts_design(chain(14)))
    sheets = circuit_sheets(network)
    found = sum((words(each) for each in sheets), Counter())
    drawn_twice = [wire.mark for wire in network.wires if found[wire_words(wire)] == 2]
    references = sum(count for text, count in found.items() if text.startswith(("to sheet", "from sheet")))
    assert len(drawn_twice) >= 1
    assert references == 2 * len(drawn_twice)
    for each in sheets:
        assert [str(fault) for fault in collisions(each.all_marks, each.paper.frame)] == []


def test_a_supply_bar_is_thick_and_above_all(sheet: Sheet) -> None:
    """The bar of the battery is the highest line of the drawing."""
    (bar,) = [mark for mark in sheet.marks if mark.kind is MarkKind.SUPPLY_BAR]
    assert isinstance(bar, Polyline)
    assert bar.width_mm > 0.8
    assert bar.box.y0 == min(mark.box.y0 for mark in sheet.marks if not isinstance(mark, TextMark))
