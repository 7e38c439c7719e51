"""Whether every name that the design uses exists."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from harnessgen.design.reading.read import DesignFiles
from harnessgen.design.records.design import Design
from harnessgen.design.records.device import Relay
from harnessgen.measures.slips import likeliest
from harnessgen.parts.library import Parts
from harnessgen.source.fault import Fault
from harnessgen.source.kind import Reference
from harnessgen.source.near import did_you_mean, may_search, nearest

# Which collections a reference's target looks in: keys of the design file, or kinds of parts.
_IN_DESIGN = {
    "zone": ("zones",),
    "splice": ("splices",),
    "connector": ("connectors",),
    "switch or driver": ("switches", "drivers"),
    "load": ("loads",),
    "supply": ("supplies",),
    "state": ("states",),
    "driver": ("drivers",),
    "bus bar, ground point or supply": ("buses", "grounds", "supplies"),
    "circuit number": ("circuits",),
    "shared feed": ("feeds",),
    "shared return": ("returns",),
}
_IN_PARTS = {
    "wire family": "wires",
    "contact": "contacts",
    "seal": "seals",
    "connector family": "connectors",
    "fuse form": "fuses",
    "relay family": "relays",
    "load family": "loads",
    "covering family": "coverings",
    "tape family": "tapes",
    "splice family": "splices",
}
_DEVICES = ("supplies", "grounds", "buses", "fuses", "relays", "switches", "drivers", "loads")


def missing_names(files: DesignFiles, design: Design, parts: Parts) -> list[Fault]:
    """A fault for each name that stands nowhere; `design` has its banks expanded, `parts` holds the whole shelf.

    A name whose own record is broken counts as there: its fault is told where it stands.
    """
    return [*_lost_starts(files, design), *_Names(files, design, parts).faults(files.references)]


def _lost_starts(files: DesignFiles, design: Design) -> Iterator[Fault]:
    """Points under which stretches are written and that nothing leads to, where a point like it is the end of one."""
    reached = {point for stretches in design.route.values() for point in stretches}
    ends = [point for point in points_of(design) if point in reached and point not in design.route]
    for name in [each for each in design.route if each not in reached][1:]:
        near = nearest(name, ends)
        if near and name in files.starts:
            message = f"No stretch of the route leads to {name}, and nothing goes on from {near}."
            yield Fault("unknown-reference", files.starts[name], message, f"did you mean {near}?", subject=name)


@dataclass(slots=True)
class _Names:
    files: DesignFiles
    design: Design
    parts: Parts
    ends: tuple[str, ...] = field(init=False)
    """Designators of all that a wire can end in."""
    has_lost_banks: bool = field(init=False)

    def __post_init__(self) -> None:
        """Gather once what every wrong name is held against."""
        halves = (f"{name}{half}" for name in self.design.disconnects for half in "sp")
        self.ends = (*self.design.splices, *self.design.devices, *self.design.connectors, *halves)
        self.has_lost_banks = any(name not in self.design.banks for name in self.files.declared.get("banks", ()))

    def faults(self, references: Iterable[Reference]) -> list[Fault]:
        points = [*points_of(self.design), *sorted(self.files.declared.get("route", ()))]
        check: dict[str, Callable[[Reference], Fault | None]] = {
            "wire end": self._wire_end,
            "cavity": self._cavity,
            "disconnect cavity": self._disconnect_cavity,
            "point": self._look_in(points, "point of the route"),
        }
        wires_there = [*self.design.vehicle.circuits, *sorted(self.files.declared.get("vehicle.circuits", ()))]
        check["circuit of the vehicle"] = self._look_in(wires_there, "circuit of the vehicle")
        for target, keys in _IN_DESIGN.items():
            names = [name for key in keys for name in self._named(key)]
            check[target] = self._look_in(names, target)
        for target, kind in _IN_PARTS.items():
            names = [*getattr(self.parts, kind), *sorted(self.files.declared.get(f"parts.{kind}", ()))]
            check[target] = self._look_in(names, target)
        found = (check[reference.target](reference) for reference in references)
        return _once([fault for fault in found if fault is not None])

    def _look_in(self, names: Iterable[str], what: str) -> Callable[[Reference], Fault | None]:
        known = dict.fromkeys(names)
        return lambda reference: self._one_of(reference, known, what)

    def _named(self, key: str) -> list[str]:
        known: Mapping[str, object] = getattr(self.design, key)
        return [*known, *(name for name in sorted(self.files.declared.get(key, ())) if name not in known)]

    def _one_of(self, reference: Reference, known: Mapping[str, None], what: str) -> Fault | None:
        if reference.name in known:
            return None
        return _unknown(reference, f"There is no {what} called {reference.name}.", did_you_mean(reference.name, known))

    def _is_broken(self, designator: str) -> bool:
        """True for what is declared but could not be read, and for what a broken bank may have brought."""
        declared = self.files.declared
        keys = ("connectors", "disconnects", "splices", *_DEVICES)
        if any(designator in declared.get(key, ()) and designator not in getattr(self.design, key) for key in keys):
            return True
        return self.has_lost_banks

    def _wire_end(self, reference: Reference) -> Fault | None:
        designator, _, terminal = reference.name.partition("/")
        design = self.design
        if designator in design.splices:
            return self._no_terminal(reference, "splice", terminal)
        if designator in design.cables:
            message = f"{designator} is a cable; a wire ends in what the cable leads to."
            return _unknown(reference, message, "name the cavity, device or splice there")
        if designator in design.devices:
            return self._device_end(reference, designator, terminal)
        if designator in design.disconnects:
            halves = f"{designator}s/{terminal or '1'} or {designator}p/{terminal or '1'}"
            mend = f"write {halves} for one half; a wire that only passes it names it under through"
            return _unknown(reference, f"{designator} is a disconnect; a wire ends in one of its halves.", mend)
        part = self._connector_part(designator)
        if part is not None:
            return self._cavity_of(reference, designator, terminal, part)
        if self._is_broken(designator):
            return None
        message = f"There is no connector, splice or device called {designator}."
        if not may_search(len(self.ends)):
            return _unknown(reference, message, "")
        names = self.ends
        joint = re.fullmatch(r"(.+)[.:_-](\w+)", designator)
        if joint is not None and not terminal and joint[1] in names and self._has(*joint.groups()):
            return _unknown(reference, message, f"did you mean {joint[1]}/{joint[2]}?")
        near = self._nearest_end(designator, terminal, names) or nearest(designator, names)
        mend = f"did you mean {near}{'/' + terminal if terminal else ''}?" if near else did_you_mean(designator, names)
        return _unknown(reference, message, mend)

    def _nearest_end(self, designator: str, terminal: str, names: Iterable[str]) -> str | None:
        """Of `names` with such a terminal, the one with the same letters before its number and the nearest number."""
        # A digit or letter twice, two exchanged, O for 0: these come before the number beside.
        meant = likeliest(designator, [each for each in names if self._has(each, terminal)])
        if meant is not None:
            return meant
        letters = designator.rstrip("0123456789")
        like = [each for each in names if each.rstrip("0123456789") == letters and each != letters]
        fitting = [each for each in like if self._has(each, terminal)]
        number = designator[len(letters) :]
        if not number or not fitting:
            return None
        return min(fitting, key=lambda each: (_digits_apart(number, each[len(letters) :]), fitting.index(each)))

    def _has(self, designator: str, terminal: str) -> bool:
        if designator in self.design.devices:
            return terminal in terminal_names(self.design, self.parts, designator)
        family = self.parts.connectors.get(self._connector_part(designator) or "")
        return terminal in family.cavities if family is not None else not terminal

    def _no_terminal(self, reference: Reference, what: str, terminal: str) -> Fault | None:
        if not terminal:
            return None
        designator = reference.name.partition("/")[0]
        return _unknown(reference, f"{designator} is a {what} and has no terminal {terminal}.", f"write {designator}")

    def _device_end(self, reference: Reference, designator: str, terminal: str) -> Fault | None:
        names = terminal_names(self.design, self.parts, designator)
        if names == ("",):
            return self._no_terminal(reference, self.design.devices[designator].noun.split(" ", 1)[1], terminal)
        if terminal in names or not names:
            return None
        bare_is_clear = (
            designator in self.design.fuses or designator in self.design.switches or designator in self.design.drivers
        )
        if not terminal and bare_is_clear:
            return None
        listed = ", ".join(f"{designator}/{name}" for name in names)
        meant = likeliest(terminal, names)
        if meant is not None:
            listed = f"{listed}; did you mean {designator}/{meant}?"
        if not terminal:
            return _unknown(reference, f"{designator} has several terminals.", f"name one: {listed}")
        return _unknown(reference, f"{designator} has no terminal {terminal}.", f"it has {listed}")

    def _connector_part(self, designator: str) -> str | None:
        connector = self.design.connectors.get(designator)
        if connector is not None:
            return connector.part
        half = self.design.disconnects.get(designator[:-1]) if designator[-1:] in ("s", "p") else None
        return half.part if half is not None else None

    def _cavity_of(self, reference: Reference, designator: str, cavity: str, part: str) -> Fault | None:
        family = self.parts.connectors.get(part)
        if family is None or cavity in family.cavities:
            return None
        if not cavity:
            message = f"{designator} is a connector; a wire ends in one of its cavities."
            return _unknown(reference, message, f"name the cavity: {designator}/{family.cavities[0]}")
        message = f"{designator} has no cavity {cavity}."
        return _unknown(reference, message, f"{part} has the cavities {_listed(family.cavities)}")

    def _cavity(self, reference: Reference) -> Fault | None:
        designator, _, cavity = reference.name.partition("/")
        part = self._connector_part(designator)
        if part is not None:
            return self._cavity_of(reference, designator, cavity, part)
        if self._is_broken(designator):
            return None
        known = self.design.connectors
        message = f"There is no connector called {designator}."
        if not may_search(len(known)):
            return _unknown(reference, message, "")
        near = self._nearest_end(designator, cavity, known)
        mend = f"did you mean {near}?" if near else did_you_mean(designator, known)
        return _unknown(reference, message, mend)

    def _disconnect_cavity(self, reference: Reference) -> Fault | None:
        designator, _, cavity = reference.name.partition("/")
        disconnect = self.design.disconnects.get(designator)
        if disconnect is not None:
            return self._cavity_of(reference, designator, cavity, disconnect.part)
        if self._is_broken(designator):
            return None
        known = self.design.disconnects
        return _unknown(reference, f"There is no disconnect called {designator}.", did_you_mean(designator, known))


def _digits_apart(one: str, other: str) -> tuple[int, int]:
    """How far two numbers are from each other: first in their digits' count, then in their difference."""
    return abs(len(one) - len(other)), abs(int(one) - int(other))


def _listed(names: tuple[str, ...]) -> str:
    return ", ".join(names) if len(names) <= 8 else f"{names[0]} to {names[-1]}"


_NOT_THERE = "There is no "


def _once(faults: list[Fault]) -> list[Fault]:
    """What stands nowhere and is named in several places is told at the first of them, with how many there are."""
    by_name: dict[object, list[Fault]] = {}
    for fault in faults:
        what, _, name = fault.message.removeprefix(_NOT_THERE).rpartition(" called ")
        # A cavity and a wire's end want the same thing, though an end may be other things too.
        key = ("connector" if what.startswith("connector") else what, name)
        by_name.setdefault(key if fault.message.startswith(_NOT_THERE) else id(fault), []).append(fault)
    return [_at_first(same) if len(same) > 1 else same[0] for same in by_name.values()]


def _at_first(same: list[Fault]) -> Fault:
    first = min(same, key=lambda fault: (fault.place.file, fault.place.start))
    name = first.subject.partition("/")[0]
    # The number of a connector is hardly mistaken in the same way twice; a word may be where it is declared.
    near = first.mend if first.mend.startswith("did you mean") and "/" not in first.subject else ""
    mend = f"{near + ' Else ' if near else ''}add {name}, or mend its name where it is declared"
    lines = len({fault.place.line for fault in same})
    message = f"{first.message.removesuffix('.')}, and {len(same)} places in {lines} lines name it."
    return replace(first, message=message, mend=mend)


def _unknown(reference: Reference, message: str, mend: str) -> Fault:
    return Fault("unknown-reference", reference.place, message, mend, subject=reference.name)


def points_of(design: Design) -> dict[str, None]:
    """All points of the route, in the order of the file."""
    points: dict[str, None] = {}
    for start, stretches in design.route.items():
        points[start] = None
        points.update(dict.fromkeys(stretches))
    return points


def terminal_names(design: Design, parts: Parts, designator: str) -> tuple[str, ...]:
    """Names of the terminals of a device; ('',) where it has a single one that is not named; () when unknown."""
    device = design.devices[designator]
    if isinstance(device, Relay):
        part = parts.relays.get(device.part)
        return part.terminals if part else ()
    return device.terminal_names


def bare_terminal(names: tuple[str, ...], *, is_start: bool) -> str:
    """Terminal meant where a device is named alone: current leaves a fuse or switch at `out` and enters at `in`."""
    if "in" in names and "out" in names:
        return "out" if is_start else "in"
    return "out" if "out" in names else ""
