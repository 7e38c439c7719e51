"""Limits on heat: how long a state lasts that does not say so, and how long an inrush."""

from harnessgen.design.default_limit import DefaultLimit
from harnessgen.design.shop_limits import ShopLimits
from harnessgen.evidence.publication import common_practice
from harnessgen.measures.quantity import TIME, Quantity
from harnessgen.source.key import key, record
from harnessgen.source.measure_kind import Measure

HEAT_LIMITS = {
    "stall-lasts": DefaultLimit(
        Quantity(10.0), "s", common_practice("a blocked motor before somebody switches it off")
    ),
    "inrush-lasts": DefaultLimit(Quantity(0.2), "s", common_practice("warming of a filament")),
    "cranking-lasts": DefaultLimit(Quantity(30.0), "s", common_practice("one try of a starter")),
    "lamp-warm-up": DefaultLimit(
        Quantity(0.03), "s", common_practice("time in which the inrush of a cold filament falls to a third")
    ),
    "motor-run-up": DefaultLimit(
        Quantity(0.1), "s", common_practice("time in which the inrush of a small motor at rest falls to a third")
    ),
}


@record
class HeatLimits(ShopLimits):
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

    noun = "limits on heat"
