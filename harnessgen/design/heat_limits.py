"""Limits on heat: by which method a wire's allowed current is found, in what air, how long states and inrush last."""

from harnessgen.design.bundle_limits import BundleLimits
from harnessgen.design.default_limit import DefaultLimit
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.quantity import LENGTH, TIME, Quantity
from harnessgen.source.key import key, record
from harnessgen.source.kind import Choice
from harnessgen.source.measure_kind import Measure

HEAT_LIMITS = {
    "stall-lasts": DefaultLimit(
        Quantity(10.0), "s", common_practice("a blocked motor before somebody switches it off")
    ),
    "inrush-lasts": DefaultLimit(Quantity(0.2), "s", common_practice("warming of a filament")),
    "altitude": DefaultLimit(Quantity(0.0), "mm", common_practice("sea level")),
    "cranking-lasts": DefaultLimit(Quantity(30.0), "s", common_practice("one try of a starter")),
    "lamp-warm-up": DefaultLimit(
        Quantity(0.03), "s", common_practice("time in which the inrush of a cold filament falls to a third")
    ),
    "motor-run-up": DefaultLimit(
        Quantity(0.1), "s", common_practice("time in which the inrush of a small motor at rest falls to a third")
    ),
}

HEAT_BALANCE = "heat-balance"
AIR = "air"
METHODS = (HEAT_BALANCE, "boat-table", "aircraft-curves", "space-derating")
CHOICES = {"ampacity": HEAT_BALANCE, "surroundings": AIR}
"""Limits that are a word and no quantity, with what holds where the design says nothing."""


@record
class HeatLimits(BundleLimits):
    """The part of the limits that the heat of wires rests on."""

    stall_lasts_s: Quantity | None = key(
        "stall-lasts",
        Measure(TIME, above=0),
        "How long a motor is held, where the state does not say how long it lasts.",
        default=None,
        default_words="10 s",
    )
    inrush_lasts_s: Quantity | None = key(
        "inrush-lasts",
        Measure(TIME, above=0),
        "How long a cold lamp draws its inrush, where the state does not say how long it lasts.",
        default=None,
        default_words="0.2 s",
    )
    cranking_lasts_s: Quantity | None = key(
        "cranking-lasts",
        Measure(TIME, above=0),
        "How long a state with its supply cranking lasts, where it does not say.",
        default=None,
        default_words="30 s",
    )

    lamp_warm_up_s: Quantity | None = key(
        "lamp-warm-up",
        Measure(TIME, above=0),
        "Time in which the inrush of a cold lamp falls to a third.",
        default=None,
        default_words="30 ms",
    )
    motor_run_up_s: Quantity | None = key(
        "motor-run-up",
        Measure(TIME, above=0),
        "Time in which the inrush of a motor at rest falls to a third.",
        default=None,
        default_words="100 ms",
    )
    ampacity: str | None = key(
        "ampacity",
        Choice(METHODS),
        "How a wire's allowed current is found: heat balance, or a published table within its own domain.",
        default=None,
        default_words="`heat-balance`",
    )
    surroundings: str | None = key(
        "surroundings",
        Choice((AIR, "vacuum")),
        "What lies round the harness.",
        default=None,
        default_words="`air`",
    )
    altitude_mm: Quantity | None = key(
        "altitude",
        Measure(LENGTH, lowest=0, highest=20e6),
        "Height above the sea up to which the harness works: thin air carries off less heat.",
        default=None,
        default_words="0 m",
    )

    noun = "limits on heat"


def chosen(name: str, *tables: HeatLimits | None) -> tuple[str, Publication]:
    """The choice `name` from the first of `tables` that makes it, else the default; and where it comes from.

    Raises:
        KeyError: there is no choice of this name.
    """
    default = CHOICES[name]
    for table in tables:
        word: str | None = getattr(table, name) if table is not None else None
        if table is not None and word is not None:
            return word, Publication(f"set in the design, {table.where(name)}")
    return default, common_practice("unless the design says otherwise")
