"""What the bench has to know of a load: its kind, its resistance with bounds, and how it shows that it works."""

from dataclasses import dataclass

from harnessgen.bench.setup.instruments import UNSTATED_TOLERANCE
from harnessgen.design.records.device import Load
from harnessgen.measures.quantity import Quantity
from harnessgen.network.network import Network
from harnessgen.physics.electrical.element_resistance import load_ohm

SIGNS = {"coil": "clicks", "motor": "turns", "lamp": "lights"}
"""How a load of each kind shows that it works; the others only draw their current."""


@dataclass(frozen=True, slots=True)
class LoadFigures:
    """A load as the bench sees it. `ohm` is its resistance while it works, with the bounds that a good one keeps."""

    name: str
    kind: str
    ohm: Quantity
    inductance_h: float | None
    is_ignition: bool = False

    @property
    def sign(self) -> str:
        """How it shows that it works."""
        if self.is_ignition:
            return "sparks in its tester"
        return SIGNS.get(self.kind, "draws its current")

    @property
    def is_linear(self) -> bool:
        """True when a meter sees the same resistance as the supply; a cold filament or a motor at rest has far less."""
        return self.kind in ("coil", "resistor")


def load_figures(network: Network, load: Load) -> LoadFigures:
    """Figures of a load from the design, else from its family."""
    family = network.parts.loads.get(load.part)
    kind = load.kind or (family.kind if family is not None else "resistor")
    stated = load.resistance_ohm
    if stated is None and load.power_w is None and family is not None:
        stated = family.resistance_ohm
    ohm = load_ohm(network, load)
    if stated is None or stated.plus == stated.minus == 0:
        bounded = Quantity(ohm, ohm * UNSTATED_TOLERANCE, ohm * UNSTATED_TOLERANCE)
    else:
        bounded = Quantity(ohm, stated.plus, stated.minus)
    own = load.inductance_h or (family.inductance_h if family is not None else None)
    # Only words tell an ignition coil from another; all that hangs on it is how it shows that it works.
    words = f"{load.part} {load.title} {family.title if family is not None else ''}".lower()
    inductance_h = own.value if own is not None else None
    return LoadFigures(load.name, kind, bounded, inductance_h, kind == "coil" and "ignition" in words)
