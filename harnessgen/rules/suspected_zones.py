"""Zones that are nearly as hot as the wire in them stands, where much goes wrong by it at once."""

from collections.abc import Iterator, Sequence

from harnessgen.evidence.finding import Finding, Number, Proposal, Severity
from harnessgen.measures.designator import natural_key
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.physics.electrical.element_resistance import ambient_degc

RULE = "over-temperature"
_BY_HEAT = ("wire-overload", "over-temperature", "fuse-too-large", "fuse-too-small", "fuse-too-slow", "excess-drop")
_LEAST = 4
_MARGIN_K = 20.0
"""Where less is left to the rating, a wire may carry less than half of what it may in a workshop: the allowed current
goes with the root of the rise, and 20 K of some 100 K leave 45 %."""
_COOLER_BY_K = (30, 45, 60)
_WORKSHOP_DEGC = 25


def suspected_zones(findings: Sequence[Finding], network: Network) -> Iterator[Finding]:
    """For each such zone a finding at its ambient; it is to be told only if what it may explain is gone without it.

    There is none for a zone that is told already.
    """
    judged = [each for each in findings if each.accepted is None and each.rule in _BY_HEAT]
    if len(judged) < _LEAST:
        return
    told = {each.place._replace(pattern="") for each in judged}
    for name, zone in network.design.zones.items():
        place = zone.where("ambient_degc")
        ratings: dict[str, tuple[float, str]] = {}
        for wire in network.wires:
            for leg in wire.way:
                left_k = wire.family.rating_degc.value - ambient_degc(network, leg)
                if leg.zone == name and 0.0 <= left_k < _MARGIN_K:
                    ratings[wire.mark] = (wire.family.rating_degc.value, wire.family.name)
        if len(ratings) < _LEAST or place._replace(pattern="") in told:
            continue
        rating, family = min(ratings.values())
        ambient = zone.ambient_degc.value
        message = f"Zone {name} is nearly as hot as {family} stands, so that what lies in it may carry next to nothing."
        numbers = (
            Number("ambient", ambient, "degC", f"zone {name}", 0),
            Number(
                "stands", rating, "degC", f"{family}; {plain_number(rating - ambient, 1)} K more than its zone has", 0
            ),
        )
        cooler = tuple(
            Proposal(place, f"{degc} degC", f"{degc} degC for zone {name}, if a measurement bears it out")
            for degc in (plain_number(rating - step, 1) for step in _COOLER_BY_K)
        )
        probe = Proposal(place, f"{_WORKSHOP_DEGC} degC", "", is_probe=True)
        marks = tuple(sorted(ratings, key=natural_key))
        yield Finding(
            RULE, Severity.ERROR, marks[0], place, message, numbers, subjects=marks, proposals=(*cooler, probe)
        )
