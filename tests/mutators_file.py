"""For each rule of the file a change that breaks a good design in that one way, and one that nearly does."""

import re

from harnessgen.evidence.finding import Severity
from tests.line import examine_text
from tests.mutators import Change, Good, Mutator, under


def _line_of(text: str, start: int) -> int:
    return text.count("\n", 0, start) + 1


def _edited(good: Good, pattern: str, new: str) -> Change | None:
    """The text with the first match of a pattern replaced, and the line at which that begins."""
    found = re.search(pattern, good.text, re.MULTILINE)
    if found is None:
        return None
    return Change(
        good.text[: found.start()] + found.expand(new) + good.text[found.end() :], _line_of(good.text, found.start())
    )


def _near(change: Change | None) -> Change | None:
    return Change(change.text) if change is not None else None


def unclosed(good: Good) -> Change | None:
    """A mapping on one line loses its bracket."""
    return _edited(good, r"^(units: \{.*)\}$", r"\1")


def bracket_in_words(good: Good) -> Change | None:
    """A bracket that stands open within quotation marks."""
    return _near(_edited(good, r"^  title: (.*)$", r'  title: "\1 {"'))


def anchored(good: Good) -> Change | None:
    """An anchor before a value."""
    return _edited(good, r"^format: 2$", "format: &one 2")


def ampersand_in_words(good: Good) -> Change | None:
    """The same sign within quotation marks."""
    return _near(_edited(good, r"^  title: (.*)$", r'  title: "&one \1"'))


def key_twice(good: Good) -> Change | None:
    """The units are given twice."""
    change = _edited(good, r"^(units: \{.*\})$", r"\1\n\1")
    return Change(change.text, change.line + 1) if change is not None else None


def key_in_two_places(good: Good) -> Change | None:
    """One key in two mappings: `title` in the title block and of the first supply."""
    return _near(
        _edited(good, r"^  (\w+): \{(?:title: [^,{}]*, )?(.*voltage: .*)\}$", r"  \1: {title: the supply, \2}")
    )


def key_misspelled(good: Good) -> Change | None:
    """A key with two letters exchanged."""
    return _edited(good, r"^units: \{length:", "units: {lenght:")


def key_in_quotes(good: Good) -> Change | None:
    """A key that is there, in quotation marks."""
    return _near(_edited(good, r"^units: \{length:", 'units: {"length":'))


def without_voltage(good: Good) -> Change | None:
    """A supply without its voltage."""
    return _edited(good, r"^(  \w+: \{.*?)voltage: [^,}]*, ", r"\1")


def without_date(good: Good) -> Change | None:
    """A title block without its date, which need not be there."""
    return _near(_edited(good, r"^  date: .*\n", ""))


def no_colour(good: Good) -> Change | None:
    """A circuit in a colour that no code stands for."""
    return _edited(good, r"color: [A-Z]{2}(?=[,/}])", "color: QQ")


def another_colour(good: Good) -> Change | None:
    """A circuit in another colour of the code."""
    return _near(_edited(good, r"color: [A-Z]{2}(?=[,/}])", "color: VT"))


def amperes_for_volts(good: Good) -> Change | None:
    """A voltage in amperes."""
    return _edited(good, r"voltage: ([0-9.]+) V", r"voltage: \1 A")


def millivolts(good: Good) -> Change | None:
    """The same voltage in thousandths."""
    found = re.search(r"voltage: ([0-9.]+) V", good.text)
    return _near(_edited(good, r"voltage: ([0-9.]+) V", f"voltage: {float(found[1]) * 1000:.0f} mV")) if found else None


def no_such_zone(good: Good) -> Change | None:
    """A stretch in a zone that stands nowhere."""
    return _edited(good, r"zone: [\w-]+", "zone: nowhere-at-all")


def zone_in_quotes(good: Good) -> Change | None:
    """A zone that is there, in quotation marks."""
    return _near(_edited(good, r"zone: ([\w-]+)", r'zone: "\1"'))


def one_name_for_two(good: Good) -> Change | None:
    """A ground point with the designator of a supply."""
    name, supply = next(iter(good.network.design.supplies.items()))
    return under(good.text, "grounds", f"{name}: {{at: {supply.at}}}") if supply.at else None


def a_name_of_its_own(good: Good) -> Change | None:
    """A ground point with a designator of its own, where the supply sits."""
    supply = next(iter(good.network.design.supplies.values()))
    return _near(under(good.text, "grounds", f"G99: {{at: {supply.at}}}")) if supply.at else None


def _last_point(good: Good) -> str:
    """A point from which no stretch leads on."""
    route = good.network.design.route
    return next(end for ends in reversed(route.values()) for end in ends if end not in route)


def _onto_route(text: str, stretch: str) -> Change:
    """The text with a stretch put last into its route."""
    found = re.search(r"^route:.*\n(?:  .*\n)*", text, re.MULTILINE)
    assert found is not None
    return Change(f"{text[: found.end()]}  {stretch}\n{text[found.end() :]}", _line_of(text, found.end()))


def ring(good: Good) -> Change | None:
    """A stretch from an end of the route back to where it begins."""
    start = next(iter(good.network.design.route))
    return _onto_route(good.text, f"{_last_point(good)}: {{{start}: 900}}")


def longer_route(good: Good) -> Change | None:
    """A stretch from an end of the route to a new point."""
    return _near(_onto_route(good.text, f"{_last_point(good)}: {{nothing-here: 900}}"))


def many_without_splice(good: Good) -> Change | None:
    """A circuit with several ends that does not say where they are joined."""
    return _edited(good, r"^(  \w+: \{from: [^\[\]{}]*, to: \[[^\]]*\], (?:.*?, )?)splice: \w+, ", r"\1")


def many_with_splice(good: Good) -> Change | None:
    """The same with its splice named last."""
    return _near(
        _edited(good, r"^(  \w+: \{from: [^\[\]{}]*, to: \[[^\]]*\], (?:.*?, )?)(splice: \w+), (.*)\}$", r"\1\3, \2}")
    )


def accepted_in_vain(good: Good) -> Change | None:
    """A finding is accepted that is not there."""
    line = "  - {rule: wire-overload, subject: nothing, reason: it was there once}\n"
    text = good.text.rstrip("\n") + "\n\naccept:\n" + line
    return Change(text, text.count("\n"))


def accepted_with_cause(good: Good) -> Change | None:
    """A finding is accepted that is there."""
    notes = [each for each in examine_text(good.text).findings if each.severity is Severity.NOTE]
    lines = "".join(
        f"  - {{rule: {each.rule}, subject: {subject}, reason: known}}\n"
        for each in notes
        for subject in each.subjects or (each.subject,)
    )
    return Change(good.text.rstrip("\n") + "\n\naccept:\n" + lines) if notes else None


def beyond_the_route(good: Good) -> Change | None:
    """A bus bar on a route of its own, and a circuit that should lead there."""
    return _bar_at(good, "far-off")


def within_the_route(good: Good) -> Change | None:
    """The same bar at the end of a stretch that hangs on the route."""
    return _near(_bar_at(good, ""))


def _bar_at(good: Good, point: str) -> Change | None:
    """A bus bar 900 mm from a point, or from a ground point at an end of the route, and a circuit from there to it."""
    design = good.network.design
    ends = ((name, each.at) for name, each in design.grounds.items() if each.at and each.at not in design.route)
    ground, at = next(ends, ("", ""))
    if not ground:
        return None
    text = _onto_route(good.text, f"{point or at}: {{far-bar: 900}}").text
    text = under(text, "buses", "B99: {at: far-bar, terminal: ring-m8}").text
    size = "14 AWG" if "AWG" in good.text else "2.5 mm2"
    return under(text, "circuits", f"Z9: {{from: {ground}, to: B99, color: BK, size: {size}}}")


def of_an_earlier_format(good: Good) -> Change | None:
    """The format of the time before."""
    return _edited(good, r"^format: 2$", "format: 1")


def format_in_quotes(good: Good) -> Change | None:
    """The present format in quotation marks."""
    return _near(_edited(good, r"^format: 2$", "format: '2'"))


def without_states(good: Good) -> Change | None:
    """The states are taken out; the title block is where it is told. Coils of an ignition cannot all stay on."""
    if "four-cylinder" in good.text:
        return None
    at = good.text.find("\nstates:")
    end = good.text.find("\n\n", at + 1)
    text = good.text[: at + 1] + (good.text[end + 1 :] if end >= 0 else "")
    return Change(text, 1 + text[: text.index("\nharness:") + 1].count("\n"))


def states_remarked(good: Good) -> Change | None:
    """The states keep what they say, with a remark beside."""
    return _near(_edited(good, r"^states:$", "states:   # as the vehicle is driven"))


LEAD = """\
format: 2
harness: {title: Extension lead, number: EL-1, revision: A}
route: {plug: {socket: 1500 mm}}
connectors:
  C1: {part: sealed-2, at: plug, mate: vehicle plug}
  C2: {part: sealed-2, at: socket, half: pins, mate: lamp plug}
circuits:
  10: {from: C1/1, to: C2/1, color: RD, size: 0.75 mm2}
  90: {from: C1/2, to: C2/2, color: BK, size: 0.75 mm2}
states: {plugged: {}}
"""


def a_passive_lead(good: Good) -> Change | None:
    """The title block of the good design over a lead without supply or load."""
    return Change(LEAD, 2)


HORN = """\
format: 2
harness: {title: Horn harness, number: HN-1, revision: A}
route: {battery: {block: 300 mm, horn: 900 mm}}
supplies: {BAT: {voltage: 13.5 V, resistance: 20 mohm, at: battery}}
grounds: {G1: {at: block}}
fuses: {F1: {rating: 10 A, at: battery}}
loads: {H1: {kind: motor, power: 60 W, at: horn}}
circuits:
  10: {from: BAT, to: F1, color: RD, size: 1.5 mm2}
  11: {from: F1, to: H1/1, color: RD, size: 1.5 mm2}
  90: {from: H1/2, to: G1, color: BK, size: 1.5 mm2}
states: {horn: {}}
"""


def one_supply_and_one_load(good: Good) -> Change | None:
    """The least that can be solved."""
    return Change(HORN)


FILE: dict[str, tuple[Mutator, Mutator]] = {
    "syntax": (unclosed, bracket_in_words),
    "alias-or-tag": (anchored, ampersand_in_words),
    "duplicate-key": (key_twice, key_in_two_places),
    "old-format": (of_an_earlier_format, format_in_quotes),
    "unknown-key": (key_misspelled, key_in_quotes),
    "missing-key": (without_voltage, without_date),
    "bad-value": (no_colour, another_colour),
    "wrong-unit": (amperes_for_volts, millivolts),
    "unknown-reference": (no_such_zone, zone_in_quotes),
    "duplicate-designator": (one_name_for_two, a_name_of_its_own),
    "route-not-a-tree": (ring, longer_route),
    "unclear-circuit": (many_without_splice, many_with_splice),
    "no-states": (without_states, states_remarked),
    "nothing-to-solve": (a_passive_lead, one_supply_and_one_load),
    "unneeded-acceptance": (accepted_in_vain, accepted_with_cause),
    "unrouted-wire": (beyond_the_route, within_the_route),
}
