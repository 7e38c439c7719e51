"""Limits on heat: by which method a wire's allowed current is found, in what air, and how long a state lasts."""

from harnessgen.design.shop_limits import ShopLimits
from harnessgen.evidence.publication import Publication, common_practice
from harnessgen.measures.quantity import LENGTH, TIME, Quantity
from harnessgen.source.key import key, record
from harnessgen.source.kind import Choice
from harnessgen.source.measure_kind import Measure

HEAT_BALANCE = "heat-balance"
AIR = "air"
METHODS = (HEAT_BALANCE, "boat-table", "aircraft-curves", "space-derating")
CHOICES = {"ampacity": HEAT_BALANCE, "surroundings": AIR}
"""Limits that are a word and no quantity, with what holds where the design says nothing."""


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
