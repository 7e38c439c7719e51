"""Limits on heat: how long a state lasts that does not say so."""

from harnessgen.design.shop_limits import ShopLimits
from harnessgen.measures.quantity import TIME, Quantity
from harnessgen.source.key import key, record
from harnessgen.source.measure_kind import Measure


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

    noun = "limits on heat"
