"""Whether what the cables say makes sense by itself: each of these checks is a fault of the file."""

from collections.abc import Iterator

from harnessgen.design.records.cable import Cable
from harnessgen.design.records.design import Design
from harnessgen.source.fault import Fault


def senseless_cables(design: Design) -> Iterator[Fault]:
    """Every fault of this kind."""
    held: dict[str, Cable] = {}
    drains: set[str] = set()
    for cable in design.cables.values():
        if not cable.circuits:
            yield Fault("missing-key", cable.where("circuits"), f"{cable.name} holds no circuit.", "name its circuits")
        for circuit in cable.circuits:
            if circuit in held:
                message = f"Circuit {circuit} is in {held[circuit].name} already."
                mend = "leave it in one cable"
                yield Fault("unclear-circuit", cable.where("circuits"), message, mend, subject=circuit)
            held[circuit] = cable
        shield = cable.shield
        if shield is None:
            continue
        if shield.circuit in design.circuits or shield.circuit in drains:
            what = "a circuit of its own" if shield.circuit in design.circuits else "the drain of another cable"
            message = f"{shield.circuit} is {what}, and here the drain of {cable.name}."
            mend = "give the drain a number of its own"
            yield Fault("unclear-circuit", shield.where("circuit"), message, mend, subject=cable.name)
        drains.add(shield.circuit)
