"""Whether what the states say makes sense by itself: each of these checks is a fault of the file."""

from collections.abc import Iterator

from harnessgen.design.records.design import Design
from harnessgen.design.records.device import Load, Supply
from harnessgen.design.records.state import Pulse, State
from harnessgen.measures.quantity import plain_number
from harnessgen.parts.library import Parts
from harnessgen.parts.load import LoadPart
from harnessgen.source.fault import Fault

TWELVE_VOLT = (9.0, 16.0)
"""Stated voltages of the supplies that the default ranges of a condition are for: systems of 12 V nominal."""


def senseless_states(design: Design, parts: Parts) -> Iterator[Fault]:
    """Every fault of this kind; `design` as written, its banks not expanded."""
    for state in design.states.values():
        for name, pulse in state.pulse.items():
            if name in design.drivers:
                yield from _pulse(state, name, pulse)
        yield from _kinds(design, parts, state)
        yield from _works_and_off(state)
        yield from _round(design, state)
        if state.supply:
            for supply in design.supplies.values():
                yield from _condition(design, state, supply)
    for driver in design.drivers.values():
        drive = driver.drive
        if drive is not None and drive.hold_a.value >= drive.peak_a.value:
            peak, hold = plain_number(drive.peak_a.value), plain_number(drive.hold_a.value)
            message = f"{driver.name} holds {hold} A after a peak of {peak} A."
            yield Fault("bad-value", drive.where("hold_a"), message, "write a hold below the peak", subject=driver.name)
    things: tuple[Load | LoadPart, ...] = (*design.loads.values(), *design.parts.loads.values())
    for thing in things:
        if len(thing.dead_time_s) == 1:
            message = f"The dead time of {thing.name} is given for one voltage only."
            mend = "give it for two voltages or more"
            yield Fault("bad-value", thing.where("dead_time_s"), message, mend, subject=thing.name)


def _pulse(state: State, driver: str, pulse: Pulse) -> Iterator[Fault]:
    place, name = pulse.place, state.name
    if driver not in state.on:
        message = f"{driver} is pulsed in {name} and is not on there."
        yield Fault("bad-value", place, message, f"add {driver} to the on of {name}", subject=name)
    if (pulse.duty is None) == (pulse.width_s is None):
        what = "neither duty nor width" if pulse.duty is None else "a duty and a width"
        yield Fault("missing-key", place, f"The pulse of {driver} has {what}.", "give one of the two", subject=name)
        return
    period_s = state.period_s_of(driver)
    if period_s is None:
        message = f"Nothing says how often {driver} is pulsed in {name}."
        mend = f"add a period to the pulse, or a speed to {name}"
        yield Fault("missing-key", place, message, mend, subject=name)
    elif pulse.width_s is not None and pulse.width_s.value >= period_s:
        width, period = plain_number(1000.0 * pulse.width_s.value), plain_number(1000.0 * period_s)
        message = f"{driver} is on for {width} ms of every {period} ms in {name}: it is never off."
        mend = "shorten the width, or leave the pulse out"
        yield Fault("bad-value", pulse.where("width_s"), message, mend, subject=name)


def _works_and_off(state: State) -> Iterator[Fault]:
    for load in dict.fromkeys(each for each in state.works if each in state.off):
        message = f"{load} has to work in {state.name} and has to be off there."
        mend = f"take {load} out of one of the two lists"
        yield Fault("bad-value", state.where("works"), message, mend, subject=state.name)


def _round(design: Design, state: State) -> Iterator[Fault]:
    """A state that leads back to itself by what each follows has no beginning."""
    passed, name = [state.name], state.after
    while name in design.states and name not in passed:
        passed.append(name)
        name = design.states[name].after
    if name == state.name:
        way = " after ".join((*passed, state.name))
        mend = "take one `after` out"
        yield Fault("bad-value", state.where("after"), f"{way}: none of them comes first.", mend, subject=state.name)


def _kinds(design: Design, parts: Parts, state: State) -> Iterator[Fault]:
    for field, wanted, says in (("stalled", "motor", "stalled"), ("cold", "lamp", "cold")):
        for load in getattr(state, field):
            kind = _kind_of(design, parts, load)
            if kind and kind != wanted:
                message = f"{load} is listed as {says} in {state.name}, and is a {kind}."
                mend = f"list a {wanted}, or give {load} the kind {wanted}"
                yield Fault("bad-value", state.where(field), message, mend, subject=state.name)


def _kind_of(design: Design, parts: Parts, name: str) -> str:
    """Kind of a load of the design or of a bank; empty when it is not known."""
    load = design.loads.get(name)
    if load is not None and load.kind:
        return load.kind
    families = [bank.load for bank in design.banks.values() if name in bank.loads]
    family = load.part if load is not None else (families or [""])[0]
    if not family:
        return "resistor" if load is not None else ""
    part = parts.loads.get(family)
    return part.kind if part is not None else ""


def _condition(design: Design, state: State, supply: Supply) -> Iterator[Fault]:
    """The default ranges hold for 12 V systems; another supply has to give its own."""
    low, high = TWELVE_VOLT
    volts = supply.voltage_v.value
    own = state.voltage_v.get(supply.name)
    is_set = getattr(design.limits, f"supply_{state.supply}_v") is not None
    if own is not None or low <= volts <= high or is_set:
        return
    message = f"{supply.name} has {plain_number(volts)} V; the range for {state.supply} is that of a 12 V system."
    mend = f"give its voltage in {state.name} (voltage: {{{supply.name}: ...}}), or the limit supply-{state.supply}"
    yield Fault("bad-value", state.where("supply"), message, mend, subject=state.name)
