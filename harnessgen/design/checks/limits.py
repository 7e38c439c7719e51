"""Limits that a circuit sets for itself: each of them has to be one that is asked circuit by circuit."""

from collections.abc import Iterator

from harnessgen.design.limits.table import OF_A_CIRCUIT, Limits
from harnessgen.design.records.bank import BankSide
from harnessgen.design.records.design import Design
from harnessgen.source.fault import Fault
from harnessgen.source.key import keys_of


def senseless_limits(design: Design) -> Iterator[Fault]:
    """A fault for each limit of a circuit that only the whole harness has; `design` as written."""
    for circuit in design.circuits.values():
        yield from _of(circuit.name, circuit.limits)
    for bank in design.banks.values():
        for side in (bank.feed, bank.return_):
            if isinstance(side, BankSide):
                yield from _of(side.circuit, side.limits)
    for shared in design.shared:
        yield from _of(shared.circuit, shared.limits)


def _of(circuit: str, limits: Limits | None) -> Iterator[Fault]:
    for field_name, declared in keys_of(Limits).values():
        if limits is not None and field_name in limits.places and declared.name not in OF_A_CIRCUIT:
            message = f"Circuit {circuit} has its own limit {declared.name}, which only the whole harness can have."
            mend = f"set {declared.name} under limits at the top of the file"
            yield Fault("bad-value", limits.where(field_name), message, mend, subject=circuit)
