"""Whether shared feeds and returns make sense by themselves: each of these checks is a fault of the file."""

from collections.abc import Iterator, Mapping

from harnessgen.design.records.bank import Bank, LegOverride
from harnessgen.design.records.design import Design
from harnessgen.design.records.shared import SharedFeed, SharedFeedLegs, SharedReturn, SharedReturnLegs
from harnessgen.source.fault import Fault
from harnessgen.source.kind import names_in
from harnessgen.source.near import did_you_mean


def senseless_shared(design: Design) -> Iterator[Fault]:
    """Every fault of this kind; `design` as written, its banks not expanded."""
    for shared in design.shared:
        yield from _tree(shared)
    yield from _two_trees(design)
    sides = (side for bank in design.banks.values() for side in (bank.feed, bank.return_))
    used = {(type(side), side.shared) for side in sides if isinstance(side, SharedFeedLegs | SharedReturnLegs)}
    for shared in design.shared:
        is_feed = isinstance(shared, SharedFeed)
        if (SharedFeedLegs if is_feed else SharedReturnLegs, shared.name) not in used:
            side = "feed" if is_feed else "return"
            message = f"No bank has {side}: {shared.name}, so circuit {shared.circuit} leads to no load."
            mend = f"write {side}: {shared.name} in the banks that share it, or take it out"
            yield Fault("missing-key", shared.place, message, mend, subject=shared.name)
    for bank in design.banks.values():
        yield from _legs(bank, bank.feed, {name: load.feed for name, load in bank.loads.items()}, design.feeds)
        yield from _legs(bank, bank.return_, {name: load.return_ for name, load in bank.loads.items()}, design.returns)


def _tree(shared: SharedFeed | SharedReturn) -> Iterator[Fault]:
    word = "from" if isinstance(shared, SharedFeed) else "to"
    if not shared.splices:
        message = f"{shared.name} has no splice that legs could meet."
        yield Fault("missing-key", shared.where("splices"), message, "name its splices", subject=shared.name)
        return
    roots = [name for name, splice in shared.splices.items() if not splice.before]
    if len(roots) > 1:
        second = shared.splices[roots[1]]
        message = f"The trunk of {shared.name} can meet one splice; {names_in(roots)} name no {word}."
        mend = f"write {roots[1]}: {{{word}: {roots[0]}}} if a link joins them"
        yield Fault("unclear-circuit", second.place, message, mend, subject=shared.name)
    for name, splice in shared.splices.items():
        if splice.before and splice.before not in shared.splices:
            message = f"{splice.before} is no splice of {shared.name}."
            mend = did_you_mean(splice.before, shared.splices)
            yield Fault(
                "unknown-reference", splice.where(f"{word}_" if word == "from" else word), message, mend, subject=name
            )
        elif name in _ring(shared, name):
            message = f"The links of {shared.name} run in a ring through {name}, so no trunk reaches it."
            mend = f"let one splice name no {word}: there the trunk ends"
            yield Fault("unclear-circuit", splice.place, message, mend, subject=shared.name)
            return
        if not splice.before and splice.through:
            message = f"{name} has no link that could pass {splice.through[0]}: the trunk ends there."
            mend = f"write through: {splice.through[0]} beside trunk-size, if the trunk passes it"
            yield Fault("unclear-circuit", splice.where("through"), message, mend, subject=name)


def _ring(shared: SharedFeed | SharedReturn, name: str) -> list[str]:
    """Splices on the way from `name` towards the trunk, up to the first that comes twice."""
    seen: list[str] = []
    at = shared.splices[name].before
    while at in shared.splices and at not in seen:
        seen.append(at)
        at = shared.splices[at].before
    return seen


def _two_trees(design: Design) -> Iterator[Fault]:
    owner: dict[str, str] = {}
    for shared in design.shared:
        for name, splice in shared.splices.items():
            first = owner.setdefault(name, shared.name)
            if first != shared.name:
                message = f"{name} is a splice of {first} and of {shared.name}, so the two would be one circuit."
                mend = "give each its own splice"
                yield Fault("unclear-circuit", splice.place, message, mend, subject=name)


def _legs(
    bank: Bank,
    legs: object,
    overrides: Mapping[str, LegOverride | None],
    shared_ones: Mapping[str, SharedFeed] | Mapping[str, SharedReturn],
) -> Iterator[Fault]:
    if not isinstance(legs, SharedFeedLegs | SharedReturnLegs):
        for name, own in overrides.items():
            if own is not None and own.splice:
                message = f"{name} names a splice for its leg, and the circuit of bank {bank.name} is not shared."
                mend = "write the circuit under feeds: or returns: with its splices, or leave the splice out"
                yield Fault("unclear-circuit", own.where("splice"), message, mend, subject=name)
        return
    shared = shared_ones.get(legs.shared)
    if shared is None:
        return  # Told with the other names that stand nowhere.
    named = [(legs.splice, legs.where("splice"), bank.name)]
    named += [(own.splice, own.where("splice"), name) for name, own in overrides.items() if own is not None]
    for splice, place, subject in named:
        if splice and splice not in shared.splices:
            mend = did_you_mean(splice, shared.splices)
            message = f"{splice} is no splice of {shared.name}."
            yield Fault("unknown-reference", place, message, mend, subject=subject)
    if len(shared.splices) > 1 and not legs.splice:
        without = [name for name, own in overrides.items() if own is None or not own.splice]
        if without:
            message = (
                f"{shared.name} has the splices {names_in(shared.splices)}, and nothing says which of them the legs of"
                f" {names_in(without)} meet."
            )
            mend = f"write {{shared: {shared.name}, splice: {next(iter(shared.splices))}}}, or a splice for each leg"
            yield Fault("unclear-circuit", legs.where("shared"), message, mend, subject=bank.name)
