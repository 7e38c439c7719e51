"""Relays, with terminals marked by DIN 72552: coil 85 and 86, contacts 30, 87 and, with a change-over, 87a."""

from collections.abc import Mapping

from harnessgen.measures.quantity import CURRENT, RESISTANCE, VOLTAGE, Quantity
from harnessgen.parts.part import Part
from harnessgen.parts.suppression import Suppression
from harnessgen.parts.volts import HIGHEST, POSITIVE, RATED
from harnessgen.source.container import MapOf, RecordOf
from harnessgen.source.key import key, record
from harnessgen.source.kind import Choice, Ref, Text
from harnessgen.source.measure_kind import Measure


@record
class RelayPart(Part):
    """A relay family."""

    title: str = key("title", Text(), "What it is, in words.")
    contacts: str = key("contacts", Choice(("make", "change-over")), "Form of the contact.")
    coil_ohm: Quantity = key("coil", Measure(RESISTANCE, above=0), "Resistance of the coil at 20 degC.")
    pull_in_v: Quantity = key("pull-in", Measure(VOLTAGE, above=0), "Coil voltage that surely closes it at 20 degC.")
    contact_ohm: Quantity = key("contact", Measure(RESISTANCE, above=0), "Resistance of the closed contact.")
    current_a: Quantity = key("current", Measure(CURRENT, above=0), "Highest continuous contact current.")

    tabs: Mapping[str, str] = key(
        "tabs",
        MapOf(Ref("contact"), "terminal"),
        "Terminal that fits each of its tabs, by the tab's mark.",
        factory=dict,
    )

    positive: str = key("positive", Choice(("85", "86")), POSITIVE, default="", default_words="either")
    rated_v: Quantity | None = key(
        "rated-voltage", Measure(VOLTAGE, above=0), RATED, default=None, default_words="not known"
    )
    highest_v: Quantity | None = key(
        "highest-voltage",
        Measure(VOLTAGE, above=0),
        HIGHEST,
        default=None,
        default_words="one and a half times the rated voltage",
    )

    suppression: Suppression | None = key(
        "suppression", RecordOf(Suppression), "What sits across the coil.", default=None, default_words="not known"
    )

    noun = "a relay family"
    example = """\
parts:
  relays:
    make-24: {title: 24 V relay, contacts: make, coil: 360 ohm, pull-in: 16 V, contact: 5 mohm, current: 15 A,
              tabs: {30: tab-6.3, 87: tab-6.3, 85: tab-6.3, 86: tab-6.3}}
"""

    @property
    def terminals(self) -> tuple[str, ...]:
        """Its terminals by DIN 72552."""
        return ("30", "85", "86", "87", "87a") if self.contacts == "change-over" else ("30", "85", "86", "87")
