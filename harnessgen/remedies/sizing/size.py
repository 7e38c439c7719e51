"""The smallest wires that a design can use: sizes of least copper that meet every rule in every state.

A small problem in whole numbers proposes the lightest sizes that meet what is known; the rules are examined on them;
what fails teaches it more. What is found holds by itself: no rule fires, and each wire was tried one size down. That it
is also the least is said only where a bound that was proved comes up to it.
"""

import math
from collections.abc import Sequence

from harnessgen.design.records.state import Acceptance
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.finding import Finding
from harnessgen.evidence.publication import common_practice
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.remedies.sizing.candidates import Space
from harnessgen.remedies.sizing.proof import SizeProof
from harnessgen.remedies.sizing.search import SizeSearch
from harnessgen.remedies.sizing.trial import Sizes

MOST_TRIALS = 3000
"""Times that the rules are examined; what is not proved by then is said to be unproved."""

# A thousandth of a gram of copper is rounding.
_SAME_G = 1e-3
_MARGIN = common_practice("a miss as a share of the bound")


@frozen
class SizedWire:
    """One wire with the size found for it. `below` is the next smaller one of its family; None where there is none.

    `bound_by` is what stands against `below`, the most serious first; `is_alone` says that it does so whatever the
    other wires are. `is_kept` says that the wire is there already and was not asked.
    """

    wire: Wire
    size: ConductorSize
    copper: Evaluated
    copper_before: Evaluated
    below: ConductorSize | None
    bound_by: tuple[Finding, ...]
    is_alone: bool
    is_kept: bool


def margin_of(finding: Finding) -> Evaluated | None:
    """How far a finding's first number lies on the wrong side of its second, as a share of that; None without two.

    It is below nought: the next size down misses what it has to meet by this much.
    """
    if len(finding.numbers) < 2 or finding.numbers[0].unit != finding.numbers[1].unit or not finding.numbers[1].value:
        return None
    value, bound = finding.numbers[:2]
    inputs = (
        Input("v", value.name, value.value, value.unit),
        Input("b", bound.name, bound.value, bound.unit),
    )
    return evaluated(f"margin of {finding.rule}", "-abs(v - b) / abs(b)", inputs, "1", _MARGIN)


@frozen
class Sizing:
    """Sizes for all wires. `left` is what stands against the design with them: what no size mends.

    `bound_g` is what was proved of the least copper; `is_least` says that it is what was found. Else no single wire can
    go down a size.
    """

    wires: tuple[SizedWire, ...]
    left: tuple[Finding, ...]
    bound_g: float
    is_least: bool
    trials: int

    @property
    def mass_g(self) -> float:
        """Copper in all wires, in g."""
        return math.fsum(each.copper.result for each in self.wires)

    @property
    def mass_before_g(self) -> float:
        """Copper as the design stands, in g."""
        return math.fsum(each.copper_before.result for each in self.wires)


def smallest_sizes(network: Network, acceptances: Sequence[Acceptance], most_trials: int = MOST_TRIALS) -> Sizing:
    """Sizes of least copper for the wires of a network, or sizes of which none can go down alone.

    Raises:
        RuleCrash: a check failed by itself.
    """
    space = Space(network, acceptances, most_trials)
    corners = [set(space.trials.standing(each)) for each in (space.low, space.thickest.sizes, space.clipped)]
    space.known = frozenset(set.intersection(*corners))
    search = SizeSearch(space)
    found = search.lightest()
    sizes = search.descended(found if found is not None else search.fallback())
    return _sizing(space, SizeProof(space, search.cuts, search.sure), sizes, found is not None)


def _sizing(space: Space, proof: SizeProof, sizes: Sizes, is_met: bool) -> Sizing:
    bounds = {at: proof.bound(sizes, at) for at in range(len(sizes))}
    bound_g = proof.bound_g(sizes, {at: is_alone for at, (_, is_alone) in bounds.items()})
    mass_g = math.fsum(own[size] for own, size in zip(space.masses_g, sizes, strict=True))
    left = space.trials.standing(sizes).values()
    wires = tuple(
        SizedWire(
            wire=wire,
            size=space.shelves[at][sizes[at]],
            copper=space.copper[at][sizes[at]],
            copper_before=space.copper[at][space.now[at]],
            below=space.shelves[at][sizes[at] - 1] if space.one_down(sizes, at) is not None else None,
            bound_by=bounds[at][0],
            is_alone=bounds[at][1],
            is_kept=wire.run.is_cut_measured,
        )
        for at, wire in enumerate(space.wires)
    )
    is_least = is_met and bound_g >= mass_g - _SAME_G
    return Sizing(wires, tuple(dict.fromkeys(left)), min(bound_g, mass_g), is_least, space.trials.count)
