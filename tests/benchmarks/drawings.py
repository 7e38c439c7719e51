"""How long the drawings of a large vehicle take and how that grows: `python -m tests.benchmarks.drawings`, by hand.

Times are of the processor (this program and Graphviz together), so that other work on the machine counts little; the
ratios of n, 2n and 4n say how the time grows. Nothing is asserted: a time is no property of the program alone.
"""

import os
import sys
from collections.abc import Callable

from harnessgen.drawings.circuit.drawing import circuit_sheets
from harnessgen.drawings.layout.drawing import layout_sheets
from harnessgen.network.network import Network
from harnessgen.sheets.sheet import Sheet
from tests.drawings.generated import design_text, network_of

LOADS = (66, 275, 550, 1100)
"""The first has about 200 wires, the last about 2,000 circuits."""


def measured(draw: Callable[[Network], tuple[Sheet, ...]], network: Network) -> tuple[float, int]:
    """Processor time of a drawing, s, and its number of sheets."""
    before = os.times()
    sheets = draw(network)
    after = os.times()
    return sum(after[:4]) - sum(before[:4]), len(sheets)


def main() -> None:
    """Print a line for each size, with the ratios to the size before."""
    # What is loaded once is not what grows.
    measured(circuit_sheets, network_of(design_text(1, loads=40)))
    before: dict[str, float] = {}
    for loads in LOADS:
        network = network_of(design_text(7, loads=loads, disconnects=0))
        circuits = len(network.design.circuits) + 2 * len(network.design.banks)
        line = f"{loads:5} loads {circuits:5} circuits {len(network.wires):5} wires"
        for name, draw in (("circuit", circuit_sheets), ("layout", layout_sheets)):
            seconds, sheets = measured(draw, network)
            ratio = f" x {seconds / before[name]:.1f}" if name in before else ""
            line += f" | {name}: {sheets:3} sheets {seconds:5.1f} s{ratio}"
            before[name] = seconds
        sys.stdout.write(f"{line}\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
