"""Circuits and banks as runs of wire: each from one end to another, before the route cuts it into wires.

Here banks are expanded: each load gets its connector, a leg of the feed and a leg of the return.
"""

from collections.abc import Iterator
from dataclasses import replace

from harnessgen.design.limits.table import Limits
from harnessgen.design.records.bank import Bank, BankFeed, BankLoad, BankReturn, LegOverride
from harnessgen.design.records.cable import Cable, CableShield
from harnessgen.design.records.circuit import Circuit, GivenLength
from harnessgen.design.records.connector import Connector
from harnessgen.design.records.design import Design
from harnessgen.design.records.device import Load
from harnessgen.design.records.fan_out import FanOut
from harnessgen.design.records.shared import SharedFeed, SharedFeedLegs, SharedReturn, SharedReturnLegs
from harnessgen.measures.colour_code import ColourCode
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.measures.designator import numbered_from
from harnessgen.measures.frozen import frozen
from harnessgen.measures.quantity import Quantity
from harnessgen.source.kind import End
from harnessgen.source.place import Place


@frozen
class Run:
    """One run of wire as the builder says it. `wire` is its wire family, empty for the title block's choice.

    `cut` are the lengths of wires that are there, one for each wire of the run from its `from_` end, or none;
    `is_cut_measured` says that they were measured on the wires themselves.
    `bank` and `load` name the bank it was expanded from and the load that its leg serves; empty outside a bank.
    `shared` names the shared feed or return that it is a part of, `link` the splice that it links to the one before.
    """

    circuit: str
    from_: End
    to: End
    through: tuple[End, ...]
    colour: ColourCode
    size: ConductorSize
    wire: str
    slack_mm: Quantity
    cut: tuple[GivenLength, ...]
    limits: Limits | None
    place: Place
    size_place: Place
    bank: str = ""
    load: str = ""
    shared: str = ""
    link: str = ""
    is_cut_measured: bool = False


def bank_connectors(bank: Bank) -> dict[str, str]:
    """Connector designator of each load of the bank, by load.

    Raises:
        ValueError: the first designator does not end in a number.
    """
    counted = numbered_from(bank.connector.first, len(bank.loads))
    return {name: load.connector or counted[index] for index, (name, load) in enumerate(bank.loads.items())}


def with_banks_expanded(design: Design) -> Design:
    """The design with the loads and connectors of its banks written out among the others.

    Raises:
        ValueError: a bank's first connector does not end in a number.
    """
    connectors = dict(design.connectors)
    loads = dict(design.loads)
    for bank in design.banks.values():
        for name, designator in bank_connectors(bank).items():
            load = bank.loads[name]
            feed, back = _cavity(load.feed, bank.connector.feed), _cavity(load.return_, bank.connector.return_)
            connectors.setdefault(designator, _connector(bank, load, designator, name))
            loads.setdefault(name, _load(bank, load, designator, feed, back))
    return replace(design, connectors=connectors, loads=loads)


def _pattern(bank: Bank, load: str, place: Place) -> Place:
    return place._replace(pattern=f"bank {bank.name}, load {load}")


def _cavity(leg: LegOverride | None, pattern: str) -> str:
    return leg.cavity if leg is not None and leg.cavity else pattern


def _connector(bank: Bank, load: BankLoad, designator: str, name: str) -> Connector:
    pattern = bank.connector
    return Connector(
        name=designator,
        place=_pattern(bank, name, load.place),
        places={
            "part": pattern.where("part"),
            "at": load.where("at"),
            "contact": pattern.where("contact"),
            "reach": load.where("reach") if load.reach is not None else pattern.where("reach"),
        },
        part=pattern.part,
        at=load.at,
        half=pattern.half,
        mate=load.title or name,
        contact=pattern.contact,
        seal=pattern.seal,
        service_loops=pattern.service_loops,
        reach=load.reach or pattern.reach,
    )


def _load(bank: Bank, load: BankLoad, designator: str, feed: str, back: str) -> Load:
    place = _pattern(bank, load.name, load.place)
    return Load(
        name=load.name,
        place=place,
        places={"resistance_ohm": load.where("resistance_ohm")} if load.resistance_ohm else {},
        title=load.title,
        part=bank.load,
        resistance_ohm=load.resistance_ohm,
        connector=designator,
        terminals={"1": End(designator, feed, place), "2": End(designator, back, place)},
    )


def runs_of(design: Design) -> Iterator[Run]:
    """Every run of the design: circuits in the order of the file, the drains of cables, trunks and links of shared
    feeds and returns, then each bank's two sides.
    """
    for circuit in design.circuits.values():
        yield from _circuit_runs(circuit)
    for cable in design.cables.values():
        if cable.shield is not None:
            yield _drain_run(cable, cable.shield)
    for shared in design.shared:
        yield from _shared_runs(shared)
    for bank in design.banks.values():
        connectors = bank_connectors(bank)
        if isinstance(bank.feed, SharedFeedLegs):
            yield from _shared_legs(bank, bank.feed, design.feeds.get(bank.feed.shared), connectors)
        else:
            yield from _side_runs(bank, bank.feed, bank.feed.from_, connectors)
        if isinstance(bank.return_, SharedReturnLegs):
            yield from _shared_legs(bank, bank.return_, design.returns.get(bank.return_.shared), connectors)
        else:
            yield from _side_runs(bank, bank.return_, bank.return_.to, connectors)


def _circuit_runs(circuit: Circuit) -> Iterator[Run]:
    if circuit.runs:
        for run in circuit.runs:
            yield replace(
                _circuit_run(circuit, run.from_, run.to),
                through=run.through,
                colour=run.colour or circuit.colour,
                size=run.size or circuit.size,
                wire=run.wire or circuit.wire,
                slack_mm=run.slack_mm or circuit.slack_mm,
                cut=run.have or run.cut,
                is_cut_measured=bool(run.have),
                place=run.from_.place,
                size_place=run.where("size") if run.size else circuit.where("size"),
            )
    elif circuit.from_ is not None and circuit.splice:
        # A disconnect's cavity belongs to the run that goes through it; which one that is, the route knows.
        splice = End(circuit.splice, "", circuit.where("splice"))
        yield _circuit_run(circuit, circuit.from_, splice)
        for end in circuit.to:
            yield _circuit_run(circuit, splice, end)
    elif circuit.from_ is not None and circuit.to:
        yield _circuit_run(circuit, circuit.from_, circuit.to[0])


def _circuit_run(circuit: Circuit, from_: End, to: End) -> Run:
    return Run(
        circuit=circuit.name,
        from_=from_,
        to=to,
        through=circuit.through,
        colour=circuit.colour,
        size=circuit.size,
        wire=circuit.wire,
        slack_mm=circuit.slack_mm,
        cut=circuit.have or circuit.cut,
        is_cut_measured=bool(circuit.have),
        limits=circuit.limits,
        place=circuit.place,
        size_place=circuit.where("size"),
    )


def _drain_run(cable: Cable, shield: CableShield) -> Run:
    return Run(
        circuit=shield.circuit,
        from_=shield.to,
        to=End(cable.name, "", shield.where("free_at")),
        through=shield.through,
        colour=shield.colour,
        size=shield.size,
        wire=shield.wire,
        slack_mm=shield.slack_mm,
        cut=(),
        limits=None,
        place=shield.where("circuit"),
        size_place=shield.where("size"),
    )


def _shared_runs(shared: SharedFeed | SharedReturn) -> Iterator[Run]:
    """The trunk, then a link to each further splice in the order of the file."""
    for name, splice in shared.splices.items():
        if not splice.before:
            end = End(name, "", splice.place)
            yield _trunk_run(shared, shared.outer, end, shared=shared.name)
    for name, splice in shared.splices.items():
        if splice.before:
            before = End(splice.before, "", splice.place)
            link = _trunk_run(shared, before, End(name, "", splice.place), shared=shared.name)
            yield replace(
                link,
                through=splice.through,
                colour=splice.colour or shared.colour,
                size=splice.size or shared.trunk_size,
                wire=splice.wire or shared.wire,
                slack_mm=splice.slack_mm,
                cut=splice.have or splice.cut,
                is_cut_measured=bool(splice.have),
                link=name,
                place=splice.place,
                size_place=splice.where("size") if splice.size else shared.where("trunk_size"),
            )


def _shared_legs(
    bank: Bank,
    legs: SharedFeedLegs | SharedReturnLegs,
    shared: SharedFeed | SharedReturn | None,
    connectors: dict[str, str],
) -> Iterator[Run]:
    """A leg to each load of the bank; none where there is no such shared circuit, which `missing_names` tells."""
    if shared is None:
        return
    is_feed = isinstance(legs, SharedFeedLegs)
    only = next(iter(shared.splices), "") if len(shared.splices) == 1 else ""
    for name, load in bank.loads.items():
        own = (load.feed if is_feed else load.return_) or LegOverride()
        splice = own.splice or legs.splice or only
        if not splice:
            # Told by `senseless`: nothing says which of several splices the leg meets.
            continue
        splice_place = own.where("splice") if own.splice else legs.where("splice" if legs.splice else "shared")
        end = End(splice, "", splice_place)
        pattern = bank.connector.feed if is_feed else bank.connector.return_
        place = _pattern(bank, name, load.place)
        sized = (own, "size") if own.size else (legs, "leg_size") if legs.leg_size else None
        size_place = shared.where("leg_size" if shared.leg_size else "trunk_size")
        if sized is not None:
            size_place = sized[0].where(sized[1])
        yield replace(
            _trunk_run(shared, shared.outer, end, bank=bank.name, shared=shared.name),
            from_=end,
            to=End(connectors[name], _cavity(own, pattern), place),
            through=own.through,
            colour=own.colour or legs.colour or shared.colour,
            size=own.size or legs.leg_size or shared.leg_size or shared.trunk_size,
            wire=own.wire or legs.wire or shared.wire,
            slack_mm=own.slack_mm or legs.slack_mm or shared.slack_mm,
            cut=own.have or own.cut,
            is_cut_measured=bool(own.have),
            place=place,
            size_place=size_place if own.size else _pattern(bank, name, size_place),
            load=name,
        )


def _side_runs(bank: Bank, side: BankFeed | BankReturn, outer: End, connectors: dict[str, str]) -> Iterator[Run]:
    splice = End(side.splice, "", side.where("splice")) if side.splice else outer
    trunk = _trunk_run(side, outer, splice, bank=bank.name)
    if side.splice:
        yield trunk
    is_feed = side is bank.feed
    for name, load in bank.loads.items():
        own = (load.feed if is_feed else load.return_) or LegOverride()
        pattern = bank.connector.feed if is_feed else bank.connector.return_
        place = _pattern(bank, name, load.place)
        size_place = _pattern(bank, name, side.where("leg_size" if side.leg_size else "trunk_size"))
        yield replace(
            trunk,
            from_=splice,
            to=End(connectors[name], _cavity(own, pattern), place),
            through=own.through if side.splice else side.through + own.through,
            colour=own.colour or side.colour,
            size=own.size or side.leg_size or side.trunk_size,
            wire=own.wire or side.wire,
            slack_mm=own.slack_mm or side.slack_mm,
            # Without a splice the one leg is the trunk too.
            cut=own.have or own.cut or (() if side.splice else trunk.cut),
            is_cut_measured=bool(own.have) or (not own.cut and not side.splice and trunk.is_cut_measured),
            place=place,
            size_place=own.where("size") if own.size else size_place,
            load=name,
        )


def _trunk_run(side: FanOut, outer: End, splice: End, *, bank: str = "", shared: str = "") -> Run:
    return Run(
        circuit=side.circuit,
        from_=outer,
        to=splice,
        through=side.through,
        colour=side.colour,
        size=side.trunk_size,
        wire=side.wire,
        slack_mm=Quantity(0.0),
        cut=side.have or side.cut,
        is_cut_measured=bool(side.have),
        limits=side.limits,
        place=side.where("circuit"),
        size_place=side.where("trunk_size"),
        bank=bank,
        shared=shared,
    )
