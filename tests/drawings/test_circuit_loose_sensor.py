"""A sensor whose wires all end in cavities with nothing behind them is drawn like any other."""

import pytest

from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.sheets.marks import TextMark
from tests.drawings.circuit.elements.test_bodies import SENSORS
from tests.drawings.circuit.reading import words
from tests.drawings.circuit.test_generated import faults
from tests.drawings.generated import network_of


@pytest.mark.parametrize("name", ["N2", "N3"])
def test_a_sensor_that_leads_nowhere_is_drawn(name: str) -> None:
    """Supply, ground and input are not declared: all three terminals are on one side of the symbol."""
    number = "34" if name == "N3" else "33"
    kept = [
        line for line in SENSORS.splitlines()
        if not line.startswith(("  VREF:", "  IN2:", "  IN3:", "  G2:", "  40:", "  41:", "  42:", "  43:"))
    ]  # fmt: skip
    text = "\n".join(kept).replace(
        "  90:",
        f"  40: {{from: {name}/1, to: C1/21, color: WH/RD, size: 0.5 mm2}}\n"
        f"  41: {{from: {name}/2, to: C1/22, color: BN/GN, size: 0.5 mm2}}\n"
        f"  42: {{from: {name}/signal, to: C1/{number}, color: WH/GN, size: 0.5 mm2}}\n  90:",
    )
    network = network_of(text.replace(", IN2, IN3", ""))
    sheets = circuit_sheets(network)
    assert faults(network, sheets) == []
    printed = [words(sheet) for sheet in sheets if "index" not in sheet.block.title]
    assert sum(each[name] for each in printed) == 1
    own = {mark.text for sheet in sheets for mark in sheet.marks if isinstance(mark, TextMark) and mark.subject == name}
    assert {"1", "2", "signal"} <= own
