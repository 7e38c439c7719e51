"""The smallest radius to which the bundle of a stretch may be bent."""

from harnessgen.design.limits.table import Limit, limit
from harnessgen.design.records.route import Bend
from harnessgen.evidence.derivation import Evaluated, Input, evaluated
from harnessgen.lengths.bundles.diameter import bundle_diameter
from harnessgen.lengths.bundles.stretch import StretchBundle, diameter_mm
from harnessgen.measures.frozen import frozen
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire


@frozen
class LeastRadius:
    """The smallest inside radius, in mm: `times` the diameter of `what`, the thickest wire or a shielded cable."""

    what: str
    diameter_mm: float
    times: Limit

    @property
    def radius_mm(self) -> float:
        """Smallest radius on the inside of the bend."""
        return self.diameter_mm * self.times.value.value

    @property
    def derivation(self) -> Evaluated:
        """The radius with its formula and source."""
        inputs = (
            Input("k", "diameters", self.times.value.value, "1", self.times.source),
            Input("d", f"diameter of {self.what}", self.diameter_mm, "mm"),
        )
        return evaluated("smallest radius of a bend", "k * d", inputs, "mm", self.times.source)


def least_radius(network: Network, bundle: StretchBundle, bend: Bend | None = None) -> LeastRadius:
    """The smallest radius for a bend of a bundle; without a bend, for one that nothing holds."""
    name = "bend-radius-held" if bend is not None and bend.held == "yes" else "bend-radius"
    thickest = max(bundle.wires, key=diameter_mm)
    found = [LeastRadius(thickest.mark, diameter_mm(thickest), limit(name, network.design.limits))]
    shielded = limit("bend-radius-shielded", network.design.limits)
    for cable, cores in _shielded(network, bundle.wires).items():
        # The drain lies in the cable, and counts as one of its cores.
        whole_mm = bundle_diameter([diameter_mm(each) for each in cores]).diameter_mm
        found.append(LeastRadius(cable, whole_mm, shielded))
    return max(found, key=lambda each: each.radius_mm)


def _shielded(network: Network, wires: tuple[Wire, ...]) -> dict[str, list[Wire]]:
    cables: dict[str, list[Wire]] = {}
    for wire in wires:
        if wire.cable and network.design.cables[wire.cable].shield is not None:
            cables.setdefault(wire.cable, []).append(wire)
    return cables
