"""What to enter in a controller's output test, as rows: one for each output, engine speed, and what hangs on it."""

from collections.abc import Sequence

from harnessgen.bench.steps.output_pulses import MOST_DUTY, PulsePlan
from harnessgen.bench.steps.pulse import BURST_PULSES, MOST_HELD_W, REST_S
from harnessgen.schedules.tables.table import LISTS, Column, Medium, Table, number_column


def _limits(plan: PulsePlan) -> str:
    return f"PASSED: {plan.excess}" if plan.excess else "kept, as far as stated"


def _coil(plan: PulsePlan) -> str:
    if plan.coil is not None:
        return plan.coil.load
    return "" if plan.peak_a is None else "no inductance known"


def _warms(plan: PulsePlan) -> str:
    if plan.coil is None:
        return ""
    return f"{plan.coil.rise.result:.1f} K" if plan.coil.rise is not None else "not known"


_COLUMNS: tuple[Column[PulsePlan], ...] = (
    Column("output", "output", lambda plan: plan.output),
    Column("meanwhile", "on meanwhile", lambda plan: plan.meanwhile),
    Column("with", "with", lambda plan: plan.sees),
    number_column("speed", "engine speed", "rpm", lambda plan: plan.rpm, 0),
    number_column("period", "every", "ms", lambda plan: plan.period.result, 1),
    number_column("on", "on", "ms", lambda plan: plan.on_ms or None, 1),
    number_column("duty", "duty", "%", lambda plan: 100.0 * plan.duty if plan.on_ms else None, 0, on=LISTS),
    number_column("pulses", "pulses", "", lambda plan: plan.count.result if plan.on_ms else None, 0),
    number_column("lasts", "lasts", "s", lambda plan: plan.lasts_s if plan.on_ms else None, 2),
    Column("shows", "what shows", lambda plan: plan.shows),
    number_column("peak", "output peak", "A", lambda plan: plan.peak_a, 2, on=LISTS),
    number_column("rms", "output RMS", "A", lambda plan: plan.rms_a, 2, on=LISTS),
    Column("limits", "limits of output and coil", _limits),
    number_column("longest", "on at most", "ms", lambda plan: plan.longest_ms, 1),
    Column("coil", "hottest coil", _coil, on=LISTS),
    number_column(
        "pulse_heat", "heat a pulse", "mJ", lambda plan: 1000.0 * plan.coil.pulse.result if plan.coil else None, 0,
        on=LISTS,
    ),
    number_column("power", "heat", "W", lambda plan: plan.coil.power.result if plan.coil else None, 1, on=LISTS),
    number_column(
        "burst_heat", "heat a burst", "J", lambda plan: plan.coil.burst.result if plan.coil else None, 1, on=LISTS
    ),
    Column("warms", "warms at most", _warms),
)  # fmt: skip
_NOTES = (
    "Every = 120000 / engine speed: one cycle of a four-stroke engine, two turns. Currents and heat are those of the"
    " coldest coil at the highest supply.",
    f"A burst is at most {BURST_PULSES} pulses, then {REST_S:.0f} s rest; no output is on for more than {MOST_DUTY:.0%}"
    f" of the time, no coil at more than {MOST_HELD_W:.0f} W on average (common practice, no source). Where the"
    " controller's own limits are lower, they hold.",
    "With the lamp all loads are unplugged.",
    "A coil whose copper the design does not state (`winding`) can warm by nobody knows how much: feel it, and read its"
    " ohms after a burst, 0.39 % more for each kelvin of copper.",
)


def output_test_table(plans: Sequence[PulsePlan]) -> Table[PulsePlan]:
    """The pulses to enter; without rows where no output works coils."""
    return Table("output-test", "Controller's output test", _COLUMNS, tuple(plans), _NOTES if plans else ())


def output_test_on_sheet(plans: Sequence[PulsePlan]) -> Table[PulsePlan]:
    """The same for a test sheet: what is entered, what shows and how long it may be on."""
    columns = tuple(each for each in _COLUMNS if Medium.TEST_SHEET in each.on)
    return Table("output-test", "To enter in the output test", columns, tuple(plans), _NOTES[1:2] if plans else ())
