"""Where the file says what sits across a coil."""

from harnessgen.design.records.device import Device, Load, Relay
from harnessgen.source.place import Place


def suppression_place(device: Device, field: str) -> Place:
    """The value of `field` of the device's own suppression, or its kind; the family's name where that gives it."""
    own = device.suppression if isinstance(device, Relay | Load) else None
    if own is None:
        return device.where("part")
    return own.where(field if field in own.places else "kind")
