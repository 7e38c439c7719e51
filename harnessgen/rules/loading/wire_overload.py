"""A wire that carries more than it may carry for ever."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from harnessgen.design.limits import Limit, limit
from harnessgen.evidence.finding import Finding, Number, Proposal, Severity
from harnessgen.evidence.publication import Standing
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import plain_number
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.physics.ampacity import AllowedCurrent, allowed_current
from harnessgen.physics.operating_point import OperatingPoint
from harnessgen.physics.physics import Physics

RULE = "wire-overload"
_MOST_PROPOSALS = 4


def check(physics: Physics) -> list[Finding]:
    """One finding for each wire whose highest current over the states lies above its allowed one.

    A state with a short is left out: its currents are the short's, which is a finding of its own.
    """
    return [_finding(physics.network, each) for each in overloaded(physics)]


@frozen
class Overload:
    """A wire with the current that it carries and the one that it may carry, in A, and where they come from."""

    wire: Wire
    carries_a: float
    state: str
    allowed_a: float
    allowed: AllowedCurrent
    share: Limit


def overloaded(physics: Physics) -> Iterator[Overload]:
    """Each such wire; one in a zone hotter than its insulation stands is left out: `over-temperature` tells it."""
    network = physics.network
    elements = network.electrical.elements
    for element in elements:
        wire = element.wire
        if wire is None:
            continue
        carries_a, state = _highest(physics.lasting, element.name)
        share = limit("wire-load", wire.limits, network.design.limits)
        allowed = physics.allowed[wire.mark]
        allowed_a = allowed.allowed_a * share.value.value
        if carries_a > allowed_a and allowed.ambient_degc <= allowed.rating_degc:
            yield Overload(wire, carries_a, state, allowed_a, allowed, share)


def _finding(network: Network, each: Overload) -> Finding:
    wire, carries_a, allowed_a, share = each.wire, each.carries_a, each.allowed_a, each.share
    decimals = next((count for count in (2, 3, 4) if f"{carries_a:.{count}f}" != f"{allowed_a:.{count}f}"), 6)
    return Finding(
        RULE,
        Severity.ERROR,
        wire.mark,
        wire.size_place,
        f"Wire {wire.mark} is too thin for the current that it carries.",
        (
            Number("carries", carries_a, "A", f"in state {each.state}", decimals),
            Number("allowed", allowed_a, "A", _origin(wire, each.allowed, share), decimals),
        ),
        proposals=_thicker(network, wire, carries_a, share) if allowed_a > 0 else (),
    )


def _highest(points: Mapping[str, OperatingPoint], name: str) -> tuple[float, str]:
    """Highest current of an element, in A, and the first state in which it flows."""
    currents = ((abs(point.amperes[name]), state) for state, point in points.items())
    return max(currents, key=lambda each: each[0], default=(0.0, ""))


def _origin(wire: Wire, allowed: AllowedCurrent, share: Limit) -> str:
    among = "alone" if allowed.wires_there == 1 else f"among {allowed.wires_there} wires"
    where = f" from {allowed.leg.name}" if allowed.leg is not None else ""
    words = f"{wire.size} at {plain_number(allowed.ambient_degc, 1)} degC {among}{where}"
    if allowed.ambient_degc >= allowed.rating_degc:
        words = f"{wire.family.name} stands {plain_number(allowed.rating_degc, 1)} degC, and it is as hot{where}"
    if share.value.value != 1:
        words += f"; {plain_number(100 * share.value.value, 1)} % of {allowed.allowed_a:.2f} A, {share.source}"
    if wire.family.origin(wire.figures).standing is Standing.FROM_MEMORY:
        words += f"; figures of {wire.family.name} from memory"
    return words


def _thicker(network: Network, wire: Wire, carries_a: float, share: Limit) -> tuple[Proposal, ...]:
    """The next sizes of the same family that would carry this current."""
    by_area = sorted(wire.family.sizes.items(), key=lambda each: each[1].area_mm2.value)
    proposals: list[Proposal] = []
    for label, figures in by_area:
        if figures.area_mm2.value <= wire.figures.area_mm2.value:
            continue
        size = ConductorSize(wire.family.system, label)
        other = allowed_current(network, replace(wire, size=size, figures=figures))
        allowed_a = other.allowed_a * share.value.value
        if allowed_a >= carries_a:
            proposals.append(Proposal(wire.size_place, str(size), f"{size} (allows {allowed_a:.1f} A)"))
    return tuple(proposals[:_MOST_PROPOSALS])
