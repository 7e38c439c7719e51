"""For each rule on what must work and what must not, a change that breaks a good design in that way, and one that
nearly does: a further circuit beside the others, with a fuse of its own.
"""

from harnessgen.design.records.device import Ground, Supply
from tests.mutators import Change, Good, Mutator, under


def _added(good: Good, blocks: dict[str, tuple[str, ...]], blamed: str = "") -> Change | None:
    """The design with lines added to its blocks (`{supply}`, `{ground}` and `{at}` filled in).

    The finding belongs to the first line that begins with `blamed`.
    """
    supply, ground = good.device(Supply), good.device(Ground)
    is_metric = all(wire.size.system == "mm2" for wire in good.network.wires)
    if supply is None or ground is None or not is_metric or "\nstates:\n" not in good.text:
        return None
    text = good.text
    for block, lines in blocks.items():
        filled = (
            each.replace("{supply}", supply.name).replace("{ground}", ground.name).replace("{at}", f"at: {supply.at}")
            for each in lines
        )
        text = under(text, block, *filled).text
    numbers = [number for number, line in enumerate(text.split("\n"), 1) if line.startswith(f"  {blamed}")]
    return Change(text, numbers[0] if blamed else 0)


_FEED = (
    "901: {from: {supply}, to: XF, color: RD, size: 1.5 mm2}",
    "902: {from: XF, to: XE/1, color: RD/WH, size: 1.5 mm2}",
    "903: {from: XE/2, to: {ground}, color: BK, size: 1.5 mm2}",
)
_FUSE = ("XF: {rating: 5 A, {at}}",)


def _lamp(good: Good, figures: str, blamed: str = "") -> Change | None:
    """A lamp that is always fed and has to work."""
    lamp = f"XE: {{kind: lamp, power: 10 W, {figures}, {{at}}}}"
    blocks = {"fuses": _FUSE, "circuits": _FEED, "loads": (lamp,), "states": ("lit: {works: XE}",)}
    return _added(good, blocks, blamed)


def starved(good: Good) -> Change | None:
    """A lamp for 24 V."""
    return _lamp(good, "at-voltage: 24 V", "lit:")


def fed(good: Good) -> Change | None:
    """A lamp for 15 V."""
    return _lamp(good, "at-voltage: 15 V")


def overfed(good: Good) -> Change | None:
    """A lamp that stands 10 V."""
    return _lamp(good, "at-voltage: 12 V, highest-voltage: 10 V", "XE:")


def not_overfed(good: Good) -> Change | None:
    """A lamp that stands 16 V."""
    return _lamp(good, "at-voltage: 12 V, highest-voltage: 16 V")


def backward(good: Good) -> Change | None:
    """A lamp whose grounded terminal has to be the positive one."""
    return _lamp(good, "at-voltage: 12 V, positive: 2", "XE:")


def forward(good: Good) -> Change | None:
    """A lamp whose fed terminal has to be the positive one."""
    return _lamp(good, "at-voltage: 12 V, positive: 1")


def _relay(
    good: Good, relay: str, coil: str, contacts: tuple[str, ...], states: tuple[str, ...]
) -> dict[str, tuple[str, ...]]:
    """A relay and a lamp behind a fuse and a switch of their own; `coil` is where the switch is fed from."""
    circuits = (
        _FEED[0],
        "904: {from: XF, to: XK/30, color: RD/WH, size: 1.5 mm2}",
        f"905: {{from: XF, to: {coil}, color: RD/BU, size: 1.5 mm2}}",
        "906: {from: XK/85, to: {ground}, color: BK/WH, size: 1.5 mm2}",
        _FEED[2],
        *contacts,
    )
    return {
        "fuses": _FUSE,
        "switches": ("XS: {{at}}",),
        "relays": (f"XK: {{part: {relay}, {{at}}}}",),
        "loads": ("XE: {kind: lamp, power: 10 W, at-voltage: 12 V, {at}}",),
        "circuits": circuits,
        "states": states,
    }


def _change_over(good: Good, throw: str, blamed: str = "") -> Change | None:
    contacts = (
        "907: {from: XS, to: XK/86, color: RD/GN, size: 1.5 mm2}",
        f"908: {{from: XK/{throw}, to: XE/1, color: RD/GY, size: 1.5 mm2}}",
    )
    states = ("lit: {on: XS, works: XE}",)
    return _added(good, _relay(good, "plug-in-change-over", "XS", contacts, states), blamed)


def exchanged(good: Good) -> Change | None:
    """The lamp that has to work with the relay closed stands at 87a."""
    return _change_over(good, "87a", "XK:")


def not_exchanged(good: Good) -> Change | None:
    """It stands at 87."""
    return _change_over(good, "87")


def _holding(good: Good, start: str, blamed: str = "") -> Change | None:
    contacts = (
        "907: {from: XS, to: XK/86, color: RD/GN, size: 1.5 mm2}",
        "908: {from: XK/87, to: XE/1, color: RD/GY, size: 1.5 mm2}",
        f"909: {{from: XK/{start}, to: XK/86, color: RD/GY, size: 1.5 mm2}}",
    )
    blocks = _relay(good, "plug-in-make", "XS", contacts, ("start: {on: XS}", "run: {after: start, works: XE}"))
    if start == "86":
        blocks["circuits"] = blocks["circuits"][:-1]
        blocks["states"] = ("start: {on: XS, works: XE}", "run: {after: start, off: XE}")
    return _added(good, blocks, blamed)


def held(good: Good) -> Change | None:
    """A relay that feeds its own coil, and that nothing but its fuse lets go."""
    return _holding(good, "87", "XK:")


def let_go(good: Good) -> Change | None:
    """A relay that the same switch closes, and that does not feed its own coil."""
    return _holding(good, "86")


def _always(good: Good, states: tuple[str, ...], blamed: str = "") -> Change | None:
    """A relay whose coil is always fed; its contact goes through the switch."""
    contacts = (
        "907: {from: XK/87, to: XS, color: RD/GN, size: 1.5 mm2}",
        "908: {from: XS, to: XE/1, color: RD/GY, size: 1.5 mm2}",
    )
    return _added(good, _relay(good, "plug-in-make", "XK/86", contacts, states), blamed)


def draining(good: Good) -> Change | None:
    """A coil that draws current in a parked state."""
    return _always(good, ("night: {parked: yes, off: XE}", "lit: {on: XS, works: XE}"), "XK:")


def not_draining(good: Good) -> Change | None:
    """A coil that a switch feeds, in a parked state with the switch off."""
    change = _holding(good, "86")
    return None if change is None else Change(under(change.text, "states", "night: {parked: yes, off: XE}").text)


def unwired(good: Good) -> Change | None:
    """A fuse without a wire."""
    return _added(good, {"fuses": ("XF: {rating: 5 A, {at}}",)}, "XF:")


WORKING: dict[str, tuple[Mutator, Mutator]] = {
    "not-working": (starved, fed),
    "over-voltage": (overfed, not_overfed),
    "reversed-polarity": (backward, forward),
    "exchanged-contacts": (exchanged, not_exchanged),
    "relay-stays-on": (held, let_go),
    "parked-drain": (draining, not_draining),
    "without-wire": (unwired, forward),
}
"""For each rule what breaks a good design in that way, and what nearly does."""
