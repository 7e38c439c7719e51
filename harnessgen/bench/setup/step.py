"""The test procedure as data: blocks of steps that share one setup, in an order that is safe."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum

from harnessgen.bench.setup.instruments import Instrument
from harnessgen.bench.setup.test_lamp import Light


class Phase(Enum):
    """The phases in the order in which they are safe: each relies on those before it."""

    LOOK = "Look"
    CONTINUITY = "Continuity"
    ISOLATION = "Isolation"
    DROP = "Drop under load"
    THROUGH_LOADS = "Through the loads"
    LAMP_JOINED = "Joined, by lamp"
    LAMP_APART = "Apart, by lamp"
    FEEDS = "Feeds and grounds"
    RETURNS_AT_REST = "Returns at rest"
    LAMP_FED = "Feeds and grounds, by lamp"
    STATES = "Switches, outputs off"
    LAMP_WORKED = "The lamp in a load's place"
    OUTPUTS = "Outputs one by one"

    @property
    def is_powered(self) -> bool:
        """True when the battery is connected."""
        return list(Phase).index(self) >= list(Phase).index(Phase.FEEDS)

    @property
    def is_bent(self) -> bool:
        """True when its setup has the ends of the path bent by hand while current flows: the wiggle under load."""
        return self in (Phase.DROP, Phase.LAMP_JOINED, Phase.LAMP_WORKED)


@dataclass(frozen=True, slots=True)
class TouchPlace:
    """A place that can be touched: `node` of the electrical graph, its printed name, and how it is reached."""

    node: str
    name: str
    designator: str
    terminal: str
    reach: str
    wires: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning with the word that heads it."""

    name: str
    text: str


@dataclass(frozen=True, slots=True)
class Setup:
    """How the harness stands during a block of steps.

    `apart` are the connectors and disconnects that are unplugged, `out` the devices that are taken out, `on` the
    switches and drivers that are on. `lines` say it to the person at the bench, `meter_lines` what to do
    with a meter.
    """

    phase: Phase
    section: str
    title: str
    lines: tuple[str, ...]
    cautions: tuple[Caution, ...]
    apart: tuple[str, ...] = ()
    out: tuple[str, ...] = ()
    on: tuple[str, ...] = ()
    meter_lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Expected:
    """What a step should show: a value with the range that passes, or words alone.

    `low` or `high` is None where that side has no bound; both are None where the value is for information. `light` is
    what a test lamp shows.
    """

    words: str
    value: float | None = None
    unit: str = ""
    low: float | None = None
    high: float | None = None
    light: Light | None = None


@dataclass(frozen=True, slots=True)
class Reactions:
    """What a step does to the loads: those that work, those that must not stir, those that go on as before."""

    work: tuple[str, ...] = ()
    rest: tuple[str, ...] = ()
    unchanged: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One step: the instrument from place `a` to place `b`, or `action` alone; what it should show.

    `covers` are the marks of the wires that the reading passes, `reactions` what else has to happen or not. `on` are
    the switches and outputs that are on, `joined` the points that are clipped together at `b`; `looks_at` is the
    connector, splice or device that a look is at. `points_to` says what is wrong if the step does not come out.
    """

    number: str
    action: str
    expected: Expected
    instrument: Instrument | None = None
    a: TouchPlace | None = None
    b: TouchPlace | None = None
    covers: tuple[str, ...] = ()
    on: tuple[str, ...] = ()
    joined: tuple[str, ...] = ()
    looks_at: str = ""
    reactions: Reactions | None = None
    points_to: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Block:
    """Steps that share a setup; their numbers begin with the block's."""

    number: int
    setup: Setup
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True)
class Missed:
    """Faults of one class that a procedure does not show, for one reason: how many, of what, and what they lead to.

    `is_whole` is true where they are all of their class; `shown_on` names a sheet that does show them; it is empty
    where none does.
    """

    kind: str
    leads_to: str
    count: int
    is_whole: bool
    subjects: tuple[str, ...]
    reason: str
    shown_on: str


@dataclass(frozen=True, slots=True)
class Procedure:
    """A procedure: what is said first, the blocks in order, what it finds, what it does not test or cannot show."""

    preface: tuple[str, ...]
    blocks: tuple[Block, ...]
    not_tested: tuple[str, ...]
    finds: tuple[str, ...] = ()
    missed: tuple[Missed, ...] = ()

    @property
    def steps(self) -> Iterator[Step]:
        """Every step in order."""
        return (step for block in self.blocks for step in block.steps)
