"""What the vehicle has, among what is like it: from here on its fuses are fuses and our taps are splices.

Where it matters whose a thing is, `design.vehicle` names what the vehicle has.
"""

from dataclasses import replace

from harnessgen.design.records.design import Design


def with_vehicle(design: Design) -> Design:
    """The design with the vehicle's fuses, relays and connectors, and the taps on its wires, among its own.

    Where a name stands twice, the design's own thing is kept: `designators_taken` tells of it.
    """
    vehicle = design.vehicle
    return replace(
        design,
        fuses={**vehicle.fuses, **design.fuses},
        relays={**vehicle.relays, **design.relays},
        connectors={**vehicle.connectors, **design.connectors},
        splices={**vehicle.taps, **design.splices},
    )
