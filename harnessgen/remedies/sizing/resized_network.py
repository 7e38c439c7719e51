"""A network with other sizes of wire: what each wire could be made of, and what it weighs."""

from collections.abc import Mapping
from dataclasses import replace

from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.evidence.publication import Publication, Standing
from harnessgen.measures.conductor_size import ConductorSize
from harnessgen.network.electrical import build_electrical
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.parts.wire import WireSize

COPPER_G_PER_MM2_M = 8.89
"""Mass of annealed copper, in g for each mm2 and metre: its density of 8.89 g/cm3."""

_DENSITY = Publication("IEC 60028, International standard of resistance for copper", "clause 2", Standing.FROM_MEMORY)


def shelf_sizes(wire: Wire) -> tuple[ConductorSize, ...]:
    """Every size that the wire's family comes in, the thinnest first."""
    by_area = sorted(wire.family.sizes.items(), key=lambda each: each[1].area_mm2.value)
    return tuple(ConductorSize(wire.family.system, label) for label, _ in by_area)


def figures_of(wire: Wire, size: ConductorSize) -> WireSize:
    """Figures of the wire's family in another size.

    Raises:
        KeyError: the family does not have it.
    """
    figures = wire.family.size(size)
    if figures is None:
        raise KeyError(str(size))
    return figures


def sized_network(network: Network, sizes: Mapping[str, ConductorSize]) -> Network:
    """The network with the wires of `sizes` (by mark) in these sizes, and all else as it is.

    Raises:
        KeyError: a wire's family does not have its size.
    """
    wires = tuple(resized(wire, sizes.get(wire.mark, wire.size)) for wire in network.wires)
    electrical = build_electrical(network.design, network.parts, wires, network.given)
    return replace(network, wires=wires, electrical=electrical)


def resized(wire: Wire, size: ConductorSize) -> Wire:
    """The wire in another size of its family.

    Raises:
        KeyError: the family does not have it.
    """
    return wire if size == wire.size else replace(wire, size=size, figures=figures_of(wire, size))


def copper_mass(mark: str, area_mm2: float, length_mm: float) -> Evaluated:
    """Mass of a wire's copper, in g, from its area in mm2 and its cut length in mm."""
    inputs = (
        Input("d", "density of copper over area and length", COPPER_G_PER_MM2_M, "g/(mm2 m)", _DENSITY),
        Input("A", "copper area", area_mm2, "mm2"),
        Input("L", "cut length", length_mm, "mm"),
    )
    return evaluated(f"copper in {mark}", "d * A * L / 1000", inputs, "g", _DENSITY)
