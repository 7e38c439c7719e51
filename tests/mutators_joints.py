"""For the rules on joints: copper in a splice, splices beside each other, terminals on a tab."""

from math import fsum

from harnessgen.design.records.device import Ground
from harnessgen.measures.quantity import plain_number
from harnessgen.network.splices import leaves_towards
from tests.mutators import Change, Good, Mutator, line_with, sized, under, with_studs
from tests.mutators_electrical import with_block

HAIR_MM2 = 1e-3
HAIR_MM = 0.1


def _own_barrel(good: Good, by_mm2: float) -> Change | None:
    """A splice with two sides gets a family of its own, beside the copper of the fuller side."""
    for name, splice in good.network.design.splices.items():
        part = good.network.splice_part(name)
        sides: dict[str, list[float]] = {}
        for wire in good.network.wires_at.get(name, ()):
            area_mm2 = wire.figures.area_mm2.value
            sides.setdefault(leaves_towards(good.network, wire, name), []).append(area_mm2)
        sums = [fsum(each) for each in sides.values()]
        line = good.text.split("\n")[splice.place.line - 1]
        # Where one wire is all that fills the fuller side, it is too thick by itself, which another rule tells.
        if len(sums) != 2 or max(map(max, sides.values())) > max(sums) - 2.0 * HAIR_MM2 or not line.endswith("}"):
            continue
        if "part:" in line:
            continue
        figures = (
            f"from: {min(sums) / 2.0:.4f} mm2, to: {max(sums) + by_mm2:.4f} mm2, overlap: {part.overlap_mm.value} mm, "
            f"strip: {part.strip_mm.value} mm, across: {part.across_mm.value if part.across_mm else 5} mm, "
            f"resistance: {part.resistance_ohm.value!r} ohm, rating: {part.rating_degc.value} degC"
        )
        text = with_block(
            line_with(good.text, splice.place.line, ", part: own"),
            "parts",
            f"{{splices: {{own: {{title: own, {figures}}}}}}}",
        )
        return Change(text, splice.place.line if by_mm2 < 0.0 else 0) if text is not None else None
    return None


def overfilled(good: Good) -> Change | None:
    """A hair more copper on one side than the barrel takes."""
    return _own_barrel(good, -HAIR_MM2)


def filled(good: Good) -> Change | None:
    """A hair less."""
    return _own_barrel(good, HAIR_MM2)


def _moved(good: Good, by_mm: float) -> Change | None:
    """Of two splices of one stretch that are measured the same way the farther one, moved beside the other."""
    splices = [each for each in good.network.design.splices.values() if each.offset_mm.value and each.toward]
    for one in splices:
        for other in splices:
            is_beside = (one.at, one.toward) == (other.at, other.toward)
            later = list(good.network.design.splices).index
            if not is_beside or one.offset_mm.value >= other.offset_mm.value or later(one.name) > later(other.name):
                continue
            needs_mm = sum(good.network.splice_part(each.name).overlap_mm.value for each in (one, other))
            offset_mm = one.offset_mm.value + needs_mm + by_mm
            if any(
                offset_mm - each.offset_mm.value + 0.5 > 0 and each not in (one, other) and each.at == one.at
                for each in splices
            ):
                continue
            place = other.where("offset_mm")
            text = good.text[: place.start] + f"{plain_number(offset_mm)} mm" + good.text[place.end :]
            return Change(text, place.line if by_mm < 0.0 else 0)
    return None


def overlapping(good: Good) -> Change | None:
    """A hair nearer than both sleeves need."""
    return _moved(good, -HAIR_MM)


def staggered(good: Good) -> Change | None:
    """A hair farther."""
    return _moved(good, HAIR_MM)


def _second(good: Good, contact: str) -> Change | None:
    """A small load with a wire from a bus that another wire reaches, under a contact."""
    fuse, ground = good.live_fuse(), good.device(Ground)
    if fuse is None or ground is None:
        return None
    look = sized(fuse[1])
    text = under(good.text, "loads", f"E98: {{resistance: 1 kohm, at: {ground.at}, direct: {{2: {ground.name}}}}}").text
    text = under(text, "buses", f"B99: {{at: {ground.at}, terminal: {contact}}}").text
    lines = f"777: {{from: {fuse[0]}, to: B99, {look}}}", f"778: {{from: B99, to: E98/1, {look}}}"
    # The fuse has a stud, so that what is told is the bus alone.
    return under(with_studs(good, text, lines), "circuits", *lines)


def sharing(good: Good) -> Change | None:
    """A bus of one tab, on which two wires land."""
    change = _second(good, "tab-6.3")
    return None if change is None else Change(change.text, change.line + 1)


def stacked(good: Good) -> Change | None:
    """The same on a stud."""
    change = _second(good, "ring-m5")
    return None if change is None else Change(change.text, 0)


JOINTS: dict[str, tuple[Mutator, Mutator]] = {
    "splice-misfit": (overfilled, filled),
    "splices-overlap": (overlapping, staggered),
    "shared-tab": (sharing, stacked),
}
"""For each of these rules what breaks a good design in that way, and what nearly does."""
