"""Limits on the test lamp: which lamp the person at the bench holds."""

from harnessgen.design.default_limit import DefaultLimit
from harnessgen.design.shop_limits import ShopLimits
from harnessgen.evidence.publication import common_practice
from harnessgen.measures.quantity import POWER, VOLTAGE, Quantity
from harnessgen.source.key import key, record
from harnessgen.source.measure_kind import Measure

LAMP_LIMITS = {
    "test-lamp-power": DefaultLimit(Quantity(5.0), "W", common_practice("bulb of a test lamp")),
    "test-lamp-voltage": DefaultLimit(Quantity(12.0), "V", common_practice("bulb of a test lamp for passenger cars")),
}


@record
class LampLimits(ShopLimits):
    """The part of the limits that the procedures with a test lamp rest on."""

    test_lamp_power_w: Quantity | None = key(
        "test-lamp-power",
        Measure(POWER, above=0),
        "Power of the filament test lamp at its own voltage.",
        default=None,
        default_words="5 W",
    )
    test_lamp_voltage_v: Quantity | None = key(
        "test-lamp-voltage",
        Measure(VOLTAGE, above=0),
        "Voltage that the filament test lamp is made for.",
        default=None,
        default_words="12 V",
    )

    noun = "limits of the test lamp"
