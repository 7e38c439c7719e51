"""Faults of a finished harness: what is wrong, how that changes the network, and what it leads to."""

from dataclasses import dataclass
from enum import Enum

from harnessgen.measures.frozen import frozen


class FaultKind(Enum):
    """Classes of fault, in the words of the bench."""

    # A member equals nothing but itself; by its name it takes several times as long.
    __hash__ = object.__hash__

    WIRE_OPEN = "wire open"
    TERMINAL_OPEN = "terminal open"
    SPLICE_LEG_OPEN = "splice leg missing"
    POOR_JOINT = "poor joint"
    COMES_AND_GOES = "contact that comes and goes"
    NEIGHBOURS_BRIDGED = "neighbouring cavities bridged"
    CHAFED_TO_GROUND = "chafed to ground"
    NETS_BRIDGED = "two circuits chafed together"
    WIRES_SWAPPED = "two wires swapped in a connector"
    CONNECTORS_EXCHANGED = "like connectors exchanged"
    FUSE_MISSING = "fuse missing"
    FUSE_WRONG = "fuse of another rating"
    DIODE_REVERSED = "suppression diode reversed"
    OUTPUT_STUCK_ON = "output stuck on"
    OUTPUT_STUCK_OFF = "output stuck off"
    SIZE_WRONG = "wire of the next smaller size fitted"
    LATCH_OPEN = "contact not latched"
    SEAL_MISSING = "wire seal missing"
    PLUG_MISSING = "cavity plug missing"
    SPLICE_UNSEALED = "splice not sealed"
    CRIMP_LOOSE = "insulation not held in the crimp"
    LABEL_WRONG = "section label missing or wrong"


_K = FaultKind
WEIGHTS = {
    _K.WIRE_OPEN: 1.0,
    _K.TERMINAL_OPEN: 5.0,
    _K.SPLICE_LEG_OPEN: 3.0,
    _K.POOR_JOINT: 5.0,
    _K.COMES_AND_GOES: 3.0,
    _K.NEIGHBOURS_BRIDGED: 1.0,
    _K.CHAFED_TO_GROUND: 3.0,
    _K.NETS_BRIDGED: 1.0,
    _K.WIRES_SWAPPED: 4.0,
    _K.CONNECTORS_EXCHANGED: 2.0,
    _K.FUSE_MISSING: 2.0,
    _K.FUSE_WRONG: 2.0,
    _K.DIODE_REVERSED: 1.0,
    _K.OUTPUT_STUCK_ON: 1.0,
    _K.OUTPUT_STUCK_OFF: 1.0,
    _K.SIZE_WRONG: 1.0,
    _K.LATCH_OPEN: 4.0,
    _K.SEAL_MISSING: 2.0,
    _K.PLUG_MISSING: 2.0,
    _K.SPLICE_UNSEALED: 2.0,
    _K.CRIMP_LOOSE: 3.0,
    _K.LABEL_WRONG: 1.0,
}
"""How often each class is met, against a broken wire (common practice, no source): hands make more faults than wire."""


class Consequence(Enum):
    """What a fault leads to, from the least to the gravest."""

    __hash__ = object.__hash__

    HARMLESS = "harmless"
    LIMP = "something does not work"
    ENGINE_DAMAGE = "engine damage"
    FIRE = "fire"

    @property
    def is_severe(self) -> bool:
        """Whether it may not leave the bench unseen."""
        return self in (Consequence.ENGINE_DAMAGE, Consequence.FIRE)


@frozen
class Spot:
    """An end of a wire, by the wire's mark: end 0 is its `a`, end 1 its `b`. Without a mark: bare metal, ground."""

    mark: str = ""
    end: int = 0


METAL = Spot()
"""Body, block, or the supply's other pole."""
TOUCH_OHM = 1e-3
"""Two conductors that touch: small against any reading, and above zero as the solver wants it."""


@frozen
class Series:
    """Change: this many ohms more at one end of a wire; infinite for an open."""

    spot: Spot
    ohm: float


@frozen
class Meets:
    """Change: two places touch through so many ohms."""

    one: Spot
    other: Spot
    ohm: float


@frozen
class Swapped:
    """Change: each of two wires sits in the other's place at this end."""

    one: Spot
    other: Spot


@frozen
class Thinner:
    """Change: a wire's conductor has so many times its resistance."""

    mark: str
    times: float


@frozen
class Gone:
    """Change: a device (a fuse, an output) does not conduct at all."""

    device: str


@frozen
class Stuck:
    """Change: a device (an output) conducts whether it is on or off."""

    device: str


@frozen
class Shorted:
    """Change: a device's coil is bridged, as by a diode that conducts when the coil is fed."""

    device: str


@frozen
class Exchanged:
    """Change: what is plugged into each of two connectors is plugged into the other."""

    one: str
    other: str


Alteration = Series | Swapped | Thinner | Gone | Stuck | Shorted | Exchanged
Change = Meets | Alteration


@dataclass(frozen=True, slots=True)
class HarnessFault:
    """One fault: `name` says it to the person at the bench, `subject` is the wire, connector or device that has it.

    `change` is None for what no reading can show; `looks` names the connector, splice or device at which an eye can
    tell it, `is_seen` whether it can.
    """

    kind: FaultKind
    name: str
    subject: str
    change: Change | None
    consequence: Consequence
    section: str = ""
    looks: str = ""
    is_seen: bool = False
