"""Pin assignments of the standardised connectors and terminal marks, against the tables of their standards."""

from harnessgen.evidence.publication import Standing
from harnessgen.measures.conductor_size import parse_size
from harnessgen.parts.library import packaged_parts

PARTS = packaged_parts()

# ISO 1724, type 12N; colours by ISO 4141-3: pin, mark, function, colour, area in mm2.
ISO_1724 = """
1|L|left direction indicator|yellow|1.5
2|54g|rear fog lamp|blue|1.5
3|31|common return|white|2.5
4|R|right direction indicator|green|1.5
5|58R|right tail, position and marker lamps, number-plate lamp|brown|1.5
6|54|stop lamps|red|1.5
7|58L|left tail, position and marker lamps, number-plate lamp|black|1.5
"""

# ISO 11446, 13 pins, 12 V: pin, mark, function, colour, area in mm2, pin of the return.
ISO_11446 = """
1|L|left direction indicator|yellow|1.5|3
2||rear fog lamp|blue|1.5|3
3|31|common return for contacts 1 to 8|white|2.5|
4|R|right direction indicator|green|1.5|3
5|58R|right tail, position and marker lamps, number-plate lamp|brown|1.5|3
6|54|stop lamps|red|1.5|3
7|58L|left tail, position and marker lamps, number-plate lamp|black|1.5|3
8||reversing lamp|pink|1.5|3
9|30|permanent supply|orange|2.5|13
10|15|supply controlled by ignition switch|grey|2.5|11
11|31|common return for contact 10|white with black stripe|2.5|
12||reserved for future allocation|||
13|31|common return for contact 9|white with red stripe|2.5|
"""

# SAE J560: pin, colour, function, gauge (which pin has which gauge is from memory; pin 7 wholly).
SAE_J560 = """
1|white|ground return to towing vehicle|8
2|black|clearance, side marker and licence-plate lamps|12
3|yellow|left turn signal and hazard|12
4|red|stop lamps and antilock devices|10
5|green|right turn signal and hazard|12
6|brown|tail, clearance, side marker and identification lamps|12
7|blue|continuous power for trailer antilock, auxiliary|10
"""

# ISO 15031-3 (SAE J1962): pin, function.
ISO_15031_3 = """
1|discretionary (vehicle manufacturer)
2|SAE J1850 bus positive
3|discretionary
4|chassis ground
5|signal ground
6|CAN high, ISO 15765-4
7|K-line, ISO 9141-2 and ISO 14230-4
8|discretionary
9|discretionary
10|SAE J1850 bus negative
11|discretionary
12|discretionary
13|discretionary
14|CAN low, ISO 15765-4
15|L-line, ISO 9141-2 and ISO 14230-4
16|permanent positive voltage
"""

# DIN 72552, marks that the parts use and what they mean.
DIN_72552 = {
    "15": "switched battery positive, ignition switch output",
    "30": "direct from battery positive, unswitched",
    "31": "return to battery negative or ground, direct",
    "54": "stop lamps",
    "58L": "tail and side lamps left",
    "58R": "tail and side lamps right, licence-plate lamp",
    "L": "indicator lamps left",
    "R": "indicator lamps right",
    "85": "coil output, towards ground",
    "86": "coil input, towards supply",
    "87": "contact output for the make path (common is 30)",
    "87a": "break contact output, connected to the common when at rest",
}


def rows(table: str) -> list[list[str]]:
    return [line.split("|") for line in table.split("\n") if line]


def assigned(name: str) -> dict[str, tuple[str, str, str, float | None, str]]:
    """Function, mark, colour in words, copper in mm2 and return of each pin."""
    return {
        cavity: (
            pin.function,
            pin.mark,
            pin.colour.words if pin.colour else "",
            pin.size.nominal_area_mm2 if pin.size else None,
            pin.return_,
        )
        for cavity, pin in PARTS.connectors[name].pins.items()
    }


def test_trailer_connector_of_7_pins() -> None:
    """ISO 1724; every lamp comes back through pin 3."""
    expected = {
        pin: (function, mark, colour, float(area), "" if pin == "3" else "3")
        for pin, mark, function, colour, area in rows(ISO_1724)
    }
    assert assigned("trailer-7") == expected


def test_trailer_connector_of_13_pins() -> None:
    """ISO 11446, with the pin of each return."""
    expected = {
        pin: (function, mark, colour, float(area) if area else None, back)
        for pin, mark, function, colour, area, back in rows(ISO_11446)
    }
    assert assigned("trailer-13") == expected


def test_heavy_trailer_connector() -> None:
    """SAE J560, which has one return; what was recalled of it says so."""
    expected = {
        pin: (function, "", colour, parse_size(f"{gauge} AWG").nominal_area_mm2, "" if pin == "1" else "1")
        for pin, colour, function, gauge in rows(SAE_J560)
    }
    assert assigned("trailer-7-heavy") == expected
    assert PARTS.connectors["trailer-7-heavy"].publication.standing is Standing.FROM_MEMORY


def test_diagnostic_connector() -> None:
    """ISO 15031-3, function by function."""
    pins = PARTS.connectors["diagnostic-16"].pins
    assert {cavity: pin.function for cavity, pin in pins.items()} == dict(rows(ISO_15031_3))


def test_marks_are_those_of_din_72552() -> None:
    """Relay terminals and marked pins; 54g is that of ISO 1724 alone."""
    used = {terminal for relay in PARTS.relays.values() for terminal in relay.terminals}
    used |= {pin.mark for connector in PARTS.connectors.values() for pin in connector.pins.values() if pin.mark}
    assert used - {"54g"} == set(DIN_72552)
    make, change_over = PARTS.relays["plug-in-make"], PARTS.relays["plug-in-change-over"]
    assert make.terminals == ("30", "85", "86", "87")
    assert change_over.terminals == ("30", "85", "86", "87", "87a")
