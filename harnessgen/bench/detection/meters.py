"""What a meter or a lamp shows of each fault: readings outside their bands, lamps that burn otherwise."""

from collections.abc import Mapping, Sequence
from functools import cached_property

import numpy as np

from harnessgen.bench.setup.step import Step
from harnessgen.bench.setup.test_lamp import DARK_SHARE, SEEN_SHARE, Light, lamp_of
from harnessgen.bench.simulation.lamp_reading import RESTING_SHARE, shown_by_lamp
from harnessgen.bench.simulation.powered_batch import Batch, Cases, entries, to_edge_v
from harnessgen.bench.simulation.readings import Edges, Readouts, edges, readouts
from harnessgen.bench.simulation.settling import Courses
from harnessgen.network.electrical import REFERENCE
from harnessgen.physics.nodal.elements import Flags, Floats, Ints
from harnessgen.physics.partitioned.bridges import BridgedRows
from harnessgen.physics.partitioned.change_lists import members


class Meters:
    """The readings of the steps of each setting, with a meter and with a lamp."""

    def __init__(self, courses: Courses, steps_of: Sequence[Sequence[Step]], bits: Mapping[str, int]) -> None:
        self.courses = courses
        self.metal = courses.grid.rig.fitted.metal
        self.lamp = lamp_of(courses.grid.rig.network.design.limits)
        told = [(setting, step) for setting, steps in enumerate(steps_of) for step in steps if self._is_read(step)]
        self.setting = np.array([setting for setting, _ in told], dtype=np.intp)
        self.bits = [bits[step.number] for _, step in told]
        self.light = np.array([_LIGHTS.index(step.expected.light) for _, step in told], dtype=np.intp)
        place_of = courses.grid.place_of
        places = [place_of.get(s.a.designator, -1) if s.a and s.expected.unit == "A" else -1 for _, s in told]
        self.readouts: Readouts = readouts(courses.grid, [self._nodes(step) for _, step in told], places)
        expected = [step.expected for _, step in told]
        self.low = np.array([-np.inf if each.low is None else each.low for each in expected], dtype=np.float64)
        self.high = np.array([np.inf if each.high is None else each.high for each in expected], dtype=np.float64)
        instruments = [step.instrument for _, step in told]
        self.share = np.array([each.share if each else 0.0 for each in instruments], dtype=np.float64)
        self.fixed = np.array([each.fixed if each else 0.0 for each in instruments], dtype=np.float64)

    @staticmethod
    def _is_read(step: Step) -> bool:
        if step.a is None or step.instrument is None:
            return False
        expected = step.expected
        return expected.light is not None or expected.low is not None or expected.high is not None

    def _nodes(self, step: Step) -> tuple[str, str]:
        if step.a is not None and step.expected.unit == "A" and step.expected.light is None:
            grid = self.courses.grid
            if step.a.designator not in grid.place_of:
                return REFERENCE, REFERENCE
            element = grid.elements[grid.place_of[step.a.designator]]
            return element.a, element.b
        other = REFERENCE if step.b is None or step.b == self.metal else step.b.node
        return (step.a.node if step.a is not None else REFERENCE), other

    @cached_property
    def edges(self) -> Edges:
        """How near each reading with the outputs off lies to its edges without a fault."""
        own = np.nonzero(self.setting == 0)[0]
        far = self._far(self.courses.alone, np.zeros_like(own), own)
        return edges(self.readouts, self.courses.alone, far, own)

    def _far(self, bridged: BridgedRows, rows: Ints, which: Ints) -> Floats:
        """How far each reading lies from its edges, in its own unit; nothing where it is over one."""
        values = self.readouts.values(bridged, rows, which)
        off = np.abs(values) * self.share[which] + self.fixed[which]
        far: Floats = np.minimum(np.abs(values + off - self.low[which]), np.abs(values - off - self.high[which]))
        far = far / (1.0 + self.share[which])
        lamps = np.nonzero(self.light[which] > 0)[0]
        if len(lamps):
            volts, ohms = self._lamp(bridged, rows[lamps], which[lamps])
            dark_v = DARK_SHARE * self.lamp.volts
            seen_v = SEEN_SHARE * self.lamp.volts
            is_dark = self.light[which[lamps]] == _LIGHTS.index(Light.DARK)
            edge = np.where(
                is_dark,
                (seen_v + ohms * self.lamp.ampere(seen_v)) / RESTING_SHARE,
                dark_v + ohms * self.lamp.ampere(dark_v),
            )
            far[lamps] = np.abs(volts - edge)
        return far

    def _lamp(self, bridged: BridgedRows, rows: Ints, which: Ints) -> tuple[Floats, Floats]:
        """Volts without the lamp, and the resistance that it sees, in ohm."""
        volts = np.abs(self.readouts.values(bridged, rows, which))
        return volts, bridged.ohms(rows, self.readouts.a[which], self.readouts.b[which])

    def _shows(self, bridged: BridgedRows, rows: Ints, which: Ints) -> Flags:
        values = self.readouts.values(bridged, rows, which)
        off = np.abs(values) * self.share[which] + self.fixed[which]
        shown = (values + off < self.low[which]) | (values - off > self.high[which])
        lamps = np.nonzero(self.light[which] > 0)[0]
        shown[lamps] = False
        if len(lamps):
            is_dark = self.light[which[lamps]] == _LIGHTS.index(Light.DARK)
            # With too few volts the lamp does not burn whatever ohms it sees.
            seen, dark = (shown_by_lamp(self.lamp, each, values[lamps], _NONE) for each in (Light.DARK, Light.LIT))
            is_open = np.where(is_dark, seen, ~dark)
            shown[lamps] = ~is_dark & ~is_open
            lamps, is_dark = lamps[is_open], is_dark[is_open]
            volts, ohms = self._lamp(bridged, rows[lamps], which[lamps])
            is_seen, goes_dark = (shown_by_lamp(self.lamp, each, volts, ohms) for each in (Light.DARK, Light.LIT))
            shown[lamps] = np.where(is_dark, is_seen, goes_dark)
        return shown

    def read(self, batch: Batch, rows: Ints, cases: Cases, masks: list[int]) -> None:
        """Add the steps that show the change of each of these rows."""
        at, which = self._entries(batch, rows, cases)
        hit = np.nonzero(self._shows(batch.bridged, at, which))[0]
        changes = cases.change[batch.cases[at[hit]]].tolist()
        for change, one in zip(changes, which[hit].tolist(), strict=True):
            masks[change] |= self.bits[one]

    def _entries(self, batch: Batch, rows: Ints, cases: Cases) -> tuple[Ints, Ints]:
        """Entries (row, reading): with outputs off what each row reaches, with one on all readings of that setting."""
        setting = cases.setting[batch.cases[rows]]
        place, of_setting = members(setting[setting > 0], *self._of_settings)
        at, which = entries(self.readouts, batch, rows[setting == 0], self.edges)
        own = self.setting[which] == 0
        return np.concatenate((rows[setting > 0][place], at[own])), np.concatenate((of_setting, which[own]))

    @cached_property
    def _of_settings(self) -> tuple[Ints, Ints]:
        """Readings of each setting behind each other, and where those of each setting start."""
        order = np.argsort(self.setting, kind="stable")
        return order, np.searchsorted(self.setting[order], np.arange(len(self.courses.settings) + 1))

    def slack_v(self, batch: Batch, rows: Ints, cases: Cases) -> tuple[Ints, Ints, Floats]:
        """Entries (row, reading) of these rows, and how far the hubs may move before a reading comes over its edge."""
        at, which = self._entries(batch, rows, cases)
        far = self._far(batch.bridged, at, which)
        return at, which, to_edge_v(far, self.readouts.per_hub_volt(batch.bridged, at, which))

    def zones(self) -> tuple[Ints, Ints]:
        """Settings with the zones of what is read in them."""
        zones = self.courses.grid.zones
        return np.tile(self.setting, 2), np.concatenate((zones[self.readouts.a], zones[self.readouts.b]))


_LIGHTS = (None, *Light)
_NONE = np.zeros(1)
"""Behind no ohms at all, the most favourable to the lamp."""
