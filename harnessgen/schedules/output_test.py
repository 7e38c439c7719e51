"""What to enter in a controller's output test, as rows: one for each output, engine speed, and what hangs on it."""

from collections.abc import Iterator, Sequence

from harnessgen.bench.output_pulses import MOST_DUTY, PulsePlan
from harnessgen.bench.pulse import BURST_PULSES, MOST_HELD_W, REST_S
from harnessgen.schedules.table import Cell, Column, Table, number_column

_COLUMNS = (
    Column("output", "output"),
    Column("with", "with"),
    number_column("speed", "engine speed", "rpm", 0),
    number_column("period", "every", "ms", 1),
    number_column("on", "on", "ms", 1),
    number_column("duty", "duty", "%", 0),
    number_column("pulses", "pulses", "", 0),
    number_column("lasts", "lasts", "s", 2),
    Column("shows", "what shows"),
    number_column("peak", "output peak", "A", 2),
    number_column("rms", "output RMS", "A", 2),
    Column("limits", "limits of output and coil"),
    number_column("longest", "on at most", "ms", 1),
    Column("coil", "hottest coil"),
    number_column("pulse_heat", "heat a pulse", "mJ", 0),
    number_column("power", "heat", "W", 1),
    number_column("burst_heat", "heat a burst", "J", 1),
    Column("warms", "warms at most"),
)
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


def output_test_table(plans: Sequence[PulsePlan]) -> Table:
    """The pulses to enter; without rows where no output works coils."""
    return Table("output-test", "Controller's output test", _COLUMNS, tuple(map(_row, plans)), _NOTES if plans else ())


def output_test_on_sheet(plans: Sequence[PulsePlan]) -> Table:
    """The same for a test sheet: what is entered, what shows and how long it may be on."""
    kept = [index for index, column in enumerate(_COLUMNS) if column.key in _ON_SHEET]
    rows = tuple(tuple(row[index] for index in kept) for row in map(_row, plans))
    columns = tuple(_COLUMNS[index] for index in kept)
    return Table("output-test", "To enter in the output test", columns, rows, _NOTES[1:2] if plans else ())


_ON_SHEET = {"output", "with", "speed", "period", "on", "pulses", "lasts", "shows", "limits", "longest", "warms"}


def _row(plan: PulsePlan) -> tuple[Cell, ...]:
    return (
        plan.output,
        plan.sees,
        plan.rpm,
        plan.period.result,
        *((plan.on_ms, 100.0 * plan.duty, plan.count.result, plan.lasts_s) if plan.on_ms else (None,) * 4),
        plan.shows,
        plan.peak_a,
        plan.rms_a,
        _limits(plan),
        plan.longest_ms,
        *_coil(plan),
    )


def _limits(plan: PulsePlan) -> str:
    return f"PASSED: {plan.excess}" if plan.excess else "kept, as far as stated"


def _coil(plan: PulsePlan) -> Iterator[Cell]:
    coil = plan.coil
    if coil is None:
        yield from ("" if plan.peak_a is None else "no inductance known", None, None, None, "")
        return
    yield from (coil.load, 1000.0 * coil.pulse.result, coil.power.result, coil.burst.result)
    yield f"{coil.rise.result:.1f} K" if coil.rise is not None else "not known"
