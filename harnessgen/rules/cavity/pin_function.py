"""A cavity of a connector whose standard gives it one function, wired for another."""

import re
from collections.abc import Iterator

from harnessgen.design.records.device import Ground, Load, Supply
from harnessgen.evidence.finding import Finding, Severity
from harnessgen.measures.frozen import frozen
from harnessgen.network.conduction import conduction
from harnessgen.network.electrical import LASTING, Element, ElementKind
from harnessgen.network.network import Network
from harnessgen.parts.connector import ConnectorPart, PinAssignment
from harnessgen.rules.wording.places import node_place

RULE = "pin-function"
_SIDES = {"left": r"\bleft\b", "right": r"\bright\b"}
_LAMPS = {
    "indicator": r"\bindicators?\b|\bturn\b|\bhazard\b|\bblinkers?\b|\bflashers?\b",
    "fog": r"\bfog\b",
    "stop": r"\bstop\b|\bbrake\b",
    "tail": r"\btail\b|\bposition\b|\bmarker\b|\bclearance\b|\bplate\b|\blicen[cs]e\b|\bidentification\b",
    "reversing": r"\brevers(?:e|ing)\b|\bback-?up\b",
}
"""Words by which a title says what a lamp is for; one that has none of them is not judged."""


@frozen
class _Cavity:
    connector: str
    name: str
    part: ConnectorPart
    pin: PinAssignment
    node: str


def check(network: Network) -> list[Finding]:
    """One finding for each wired cavity whose circuit contradicts what its standard puts there."""
    check_of = _Circuits(network)
    found = []
    for cavity in _cavities(network):
        wrong = check_of.wrong(cavity)
        if wrong:
            message = f"{cavity.connector}/{cavity.name} is for {cavity.pin.function} by {cavity.part.title}. {wrong}"
            mend = f"lead the circuit to the cavity of {cavity.connector} that is for it"
            place = node_place(network, cavity.node)
            found.append(Finding(RULE, Severity.ERROR, f"{cavity.connector}/{cavity.name}", place, message, mend=mend))
    return found


def _cavities(network: Network) -> Iterator[_Cavity]:
    """Each cavity with an assignment and a wire; one of the two halves of a disconnect answers for both."""
    design = network.design
    halves = [(name, each.part, (f"{name}s", f"{name}p")) for name, each in design.disconnects.items()]
    for name, family, owners in (*halves, *((name, each.part, (name,)) for name, each in design.connectors.items())):
        part = network.parts.connectors[family]
        for cavity, pin in part.pins.items():
            nodes = [f"{owner}/{cavity}" for owner in owners if f"{owner}/{cavity}" in network.wires_at]
            if nodes:
                yield _Cavity(name, cavity, part, pin, nodes[0])


class _Circuits:
    """What hangs on the cavities of a network, by wires and fuses alone: every switch and contact open."""

    def __init__(self, network: Network) -> None:
        self._network = network
        self._live = conduction(network.electrical, lambda each: each.kind in (*LASTING, ElementKind.FUSE))
        devices = network.design.devices.values()
        self._has_supply = any(isinstance(each, Supply) for each in devices)
        self._has_ground = any(isinstance(each, Ground) for each in devices)
        self._loads: dict[int, list[Element]] = {}
        self._cavities_of: dict[int, set[str]] = {}
        for each in network.electrical.elements:
            if isinstance(each.device, Load):
                for net in {network.net_of[each.a], network.net_of[each.b]}:
                    self._loads.setdefault(net, []).append(each)
        for cavity in _cavities(network):
            self._cavities_of.setdefault(network.net_of[cavity.node], set()).add(f"{cavity.connector}/{cavity.name}")

    def wrong(self, cavity: _Cavity) -> str:
        """What of its circuit contradicts its function, as a sentence; empty where nothing does."""
        supplies, grounds = self._live.poles(cavity.node)
        is_return = cavity.pin.mark == "31" or bool(re.search(r"\breturn\b|\bground\b", cavity.pin.function))
        if is_return:
            if supplies:
                return f"It is fed from {supplies[0]}."
            return "It reaches no ground point." if self._has_ground and not grounds else ""
        if grounds and not cavity.pin.function.startswith(("discretionary", "reserved")):
            return f"It is joined to ground point {grounds[0]}."
        is_permanent = cavity.pin.mark == "30" or "permanent" in cavity.pin.function
        if is_permanent and self._has_supply and not supplies:
            return "No supply feeds it while everything is switched off."
        if cavity.pin.mark == "15" and supplies:
            return f"{supplies[0]} feeds it while everything is switched off."
        return self._other_load(cavity) or self._other_return(cavity)

    def _hanging(self, cavity: _Cavity) -> list[Element]:
        return self._loads.get(self._network.net_of[cavity.node], [])

    def _other_load(self, cavity: _Cavity) -> str:
        for load in self._hanging(cavity):
            if load.device is None:
                continue
            for words in (_SIDES, _LAMPS):
                own, due = (_said(words, text) for text in (load.device.title, cavity.pin.function))
                if own and due and not own & due:
                    return f"It feeds {load.device.name} ({load.device.title})."
        return ""

    def _other_return(self, cavity: _Cavity) -> str:
        """A load whose current comes back through another return of the same connector."""
        due = cavity.pin.return_
        returns = {pin.return_ for pin in cavity.part.pins.values()} - {""}
        net_of = self._network.net_of
        for load in self._hanging(cavity) if due else ():
            far = load.b if net_of[load.a] == net_of[cavity.node] else load.a
            there = self._cavities_of.get(net_of[far], set())
            through = {each for each in returns if f"{cavity.connector}/{each}" in there}
            if through and due not in through:
                name = load.device.name if load.device is not None else load.name
                taken = ", ".join(f"{cavity.connector}/{each}" for each in sorted(through))
                return f"{name} returns through {taken}, its return is {cavity.connector}/{due}."
        return ""


def _said(words: dict[str, str], text: str) -> set[str]:
    return {name for name, pattern in words.items() if re.search(pattern, text, re.IGNORECASE)}
