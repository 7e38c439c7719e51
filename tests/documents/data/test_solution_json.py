"""The solved state as JSON, against balances and against sums by hand."""

import json
from typing import Any

import pytest

from harnessgen.documents.data.solution_json import solution_json
from tests.documents.small_designs import CHANGE_OVER, SMALL, TWO_SUPPLIES
from tests.line import FLAT_SIX, physics_of

DESIGNS = {"flat six": FLAT_SIX, **SMALL}

DIGITS = 2e-8
"""Nine digits are printed, so that each number is right to 5e-9 of itself, and a quotient of differences to 2e-8."""


def solutions(text: str) -> dict[str, dict[str, Any]]:
    physics = physics_of(text)
    return {state: json.loads(solution_json(physics.network, point)) for state, point in physics.points.items()}


def by_name(rows: list[dict[str, Any]]) -> dict[str, dict[str, Any]]:
    return {row["name"]: row for row in rows}


@pytest.mark.parametrize("name", DESIGNS)
def test_kirchhoff_and_power_balance(name: str) -> None:
    """At every node currents cancel, and what the supplies give is what the rest takes."""
    for solution in solutions(DESIGNS[name]).values():
        balance = solution["balance"]
        assert balance["worst_residual_ampere"] < 1e-9
        given, taken = balance["power_given_watt"], balance["power_taken_watt"]
        assert given == pytest.approx(taken, rel=DIGITS, abs=1e-9)


def test_power_given_is_that_of_the_supply_without_load() -> None:
    """The supply gives its voltage without load times its current: 13.8 V in the flat six."""
    solution = solutions(FLAT_SIX)["boost"]
    ampere = -by_name(solution["elements"])["BAT"]["ampere"]
    assert solution["balance"]["power_given_watt"] == pytest.approx(13.8 * ampere, rel=DIGITS)


def test_every_wire_contact_fuse_and_splice_has_its_current() -> None:
    """What goes into a splice is in its three legs; a fuse and a contact carry what their wire carries."""
    solution = solutions(FLAT_SIX)["boost"]
    current = {name: abs(row["ampere"]) for name, row in by_name(solution["elements"]).items()}
    through = by_name(solution["splices"])["S1"]["through_ampere"]
    assert through == pytest.approx(current["21C"] + current["21D"] + current["21E"], rel=DIGITS)
    assert current["F1"] == pytest.approx(current["21A"], rel=DIGITS)
    assert current["C10/1"] == pytest.approx(current["21B"], rel=DIGITS)
    loads = by_name(solution["loads"])
    assert loads["INJ1"]["volt_across"] == pytest.approx(12.0 * loads["INJ1"]["ampere"], rel=DIGITS)


def test_what_hangs_free_has_no_voltage() -> None:
    """A node without a path to a supply or ground has null, and what does not conduct has no resistance."""
    solution = solutions(FLAT_SIX)["parked"]
    nodes = by_name(solution["nodes"])
    assert (nodes["K1/87"]["volt"], nodes["C1/14"]["volt"]) == (None, None)
    assert nodes["BAT"]["volt"] == pytest.approx(13.8)
    switch = by_name(solution["elements"])["SW1"]
    assert (switch["conducts"], switch["ohm"], switch["ampere"]) == (False, None, 0.0)


def test_one_supply_charges_the_other() -> None:
    """With the switch off the higher battery drives current into the lower, by the difference of their volts."""
    solution = solutions(TWO_SUPPLIES)["apart"]
    elements = by_name(solution["elements"])
    loop_ohm = sum(elements[name]["ohm"] for name in ("BAT1", "BAT2", "10A", "11A"))
    assert -elements["BAT1"]["ampere"] == pytest.approx((12.9 - 12.4) / loop_ohm, rel=DIGITS)
    assert elements["BAT2"]["ampere"] == pytest.approx((12.9 - 12.4) / loop_ohm, rel=DIGITS)


def test_relays_that_pull_in_are_named() -> None:
    """The state says which switches are on and which relays hold because of it."""
    both = solutions(CHANGE_OVER)
    assert (both["at-rest"]["relays_pulled_in"], both["pulled"]["relays_pulled_in"]) == ([], ["K1"])
    assert both["pulled"]["on"] == ["SW1"]
    lit = {state: {row["name"] for row in each["loads"] if row["ampere"] > 0.5} for state, each in both.items()}
    assert lit == {"at-rest": {"E2"}, "pulled": {"E1"}}


def wire_ohm(per_m: float, joints: float, *parts: tuple[float, float]) -> float:
    """A wire by hand: ohm per metre at 20 degC, joints in ohm, and its parts as (mm, degC)."""
    return joints + sum(per_m * mm / 1000 * (234.5 + degc) / 254.5 for mm, degc in parts)


def beside(*ohms: float) -> float:
    return 1 / sum(1 / ohm for ohm in ohms)


CONTACT, CRIMP, TAB, RING_M8, RING_M6 = 0.005, 0.001, 0.002, 0.0003, 0.0005


def left_bank_ohm() -> float:
    """From the fuse's out terminal to the output's pin, by series and parallel.

    ISO 6722-1 highest resistances as in the packaged family: 24.7 mohm/m for 0.75 mm2, 37.1 mohm/m for 0.5 mm2. Way
    along the route, wire ends 14 mm (disconnect), 12 mm (injector), 16 mm (controller) inside, 15 mm overlap in a
    splice, half of it counted at each end's zone; engine bay 90, cabin 45, plenum 120 degC.
    """
    feed_trunk = wire_ohm(0.0247, TAB, (160 + 910 + 14, 90)) + CONTACT + wire_ohm(0.0247, CRIMP, (90 + 40 + 29, 120))
    back_trunk = (
        wire_ohm(0.0247, CRIMP, (90 + 100 + 29, 120))
        + CONTACT
        + wire_ohm(0.0247, 0, (380 + 15, 45), (540 + 80 + 910 + 15, 90))
    )
    legs = []
    for way in (0, 118, 236):
        feed = wire_ohm(0.0371, CRIMP, (120 + 60 + way + 27, 120))
        back = wire_ohm(0.0371, CRIMP, (60 + 60 + way + 27, 120))
        legs.append(feed + CONTACT + 12.0 + CONTACT + back)
    return feed_trunk + beside(*legs) + back_trunk + CONTACT


def test_the_bank_by_hand_reduction() -> None:
    """Volts over amperes of the solved bank are what series and parallel give by hand."""
    solution = solutions(FLAT_SIX)["left-bank"]
    volts = {name: row["volt"] for name, row in by_name(solution["nodes"]).items()}
    ampere = by_name(solution["elements"])["F1"]["ampere"]
    assert (volts["F1/out"] - volts["C1/14 mate"]) / ampere == pytest.approx(left_bank_ohm(), rel=DIGITS)
    # Three injectors of 12 ohm with their leads, in parallel, and two trunks.
    assert left_bank_ohm() == pytest.approx(4.0 + 0.021 + 0.116, abs=0.01)


def test_full_boost_by_hand() -> None:
    """The worst case of the flat six worked by hand, to the fourth figure.

    Each bank from its fuse: 0.017 (fuse) + 4.14 (bank as above) + 0.12 (output), with 6.8 mohm from splice S5 to the
    fuse: 4.28 ohm; two of them side by side 2.14 ohm. Before them: 5.7 mohm (10A), 4.7 (F10), 5.1 (11A), 5 (K1), 4.1
    (12A), together 25 mohm. So the banks take about 13.8 V less what is lost in battery (8 mohm), ground wire 90A with
    its contact (25 mohm) and G1 (2 mohm) over 2.165 ohm. The controller takes 24 ohm, the relay coil 90 ohm, both
    through 0.14 ohm. With 6.26 A + 0.71 A in the battery, 0.056 V are lost there; 6.82 A lose 0.170 V in the ground
    wire and 0.014 V at the block: (13.8 - 0.056 - 0.170 - 0.014) / 2.165 = 6.26 A.
    """
    elements = by_name(solutions(FLAT_SIX)["boost"]["elements"])
    banks = 0.0
    controller = coil = 0.0
    left = wire_ohm(0.0127, CRIMP + TAB, (60 + 160 + 15, 90)) + 0.017 + left_bank_ohm() + 0.12
    main = (
        wire_ohm(0.0076, RING_M8 + TAB, (350, 90)) + 0.0047 + wire_ohm(0.0076, 2 * TAB, (110, 90)) + 0.005
        + wire_ohm(0.0127, TAB + CRIMP, (50 + 15, 90))
    )  # fmt: skip
    ground_wire = CONTACT + wire_ohm(0.0127, RING_M6, (380 + 8, 45), (540 + 80 + 240 + 8, 90))
    for _ in range(60):
        battery_v = 13.8 - 0.008 * (banks + controller + coil)
        block_v = 0.002 * (banks + controller + coil)
        pin_v = block_v + ground_wire * (banks + controller)
        shared_v = battery_v - 0.1362 * (controller + coil)
        # The right bank's trunks are 15 mm longer, which is 0.001 ohm in 4.28.
        banks = (battery_v - pin_v) / (main + beside(left, left + 0.00103))
        controller, coil = (shared_v - pin_v) / 24.034, (shared_v - block_v) / 90.023
    assert elements["F10"]["ampere"] == pytest.approx(banks, rel=1e-4)
    assert elements["F10"]["ampere"] == pytest.approx(6.26, abs=0.005)
    assert -elements["BAT"]["ampere"] == pytest.approx(banks + controller + coil, rel=1e-4)
