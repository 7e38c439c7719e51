"""Larger ratings for a fuse, each with the wires that it asks for, and none that a contact does not stand."""

from collections.abc import Iterable, Iterator

from harnessgen.design.limits.table import limit
from harnessgen.design.records.device import Fuse, Relay, Switch
from harnessgen.evidence.finding import Proposal
from harnessgen.measures.quantity import plain_number
from harnessgen.network.electrical import ElementKind
from harnessgen.network.network import Network
from harnessgen.network.wires import EndKind, Wire
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.larger import larger_sizes_of_all
from harnessgen.rules.protection.fused import Protected, protected

_MOST = 2


def larger_fuses(physics: Physics, fuse: Fuse, labels: Iterable[str]) -> Iterator[Proposal]:
    """The least of the ratings `labels` of the fuse's form that wires and contacts behind it stand.

    Wires that are too thin for a rating are made larger with it. A rating above that of a contact which carries the
    whole current of the fuse is none to propose: no larger wire mends a contact.
    """
    place = fuse.where("rating_a")
    yield from _larger(physics, fuse, labels)
    words = (
        f"share what {fuse.name} feeds between two fuses; a larger one asks more of a wire or contact than it stands"
    )
    yield Proposal(place, "", words, is_advice=True)


def _larger(physics: Physics, fuse: Fuse, labels: Iterable[str]) -> Iterator[Proposal]:
    place = fuse.where("rating_a")
    held = next((each for each in protected(physics) if each.fuse.name == fuse.name), None)
    most_a = _weakest_contact_a(physics.network, held) if held is not None else float("inf")
    for label in sorted(labels, key=float)[:_MOST]:
        rating = float(label)
        if rating > most_a:
            return
        words = f"{plain_number(rating)} A for {fuse.name}"
        thin = _too_thin(physics, held, rating) if held is not None else []
        if not thin:
            yield Proposal(place, f"{label} A", words)
            continue
        for sizes in larger_sizes_of_all(thin):
            besides = ((sizes.place, sizes.text), *sizes.besides)
            yield Proposal(place, f"{label} A", f"{words}, with {sizes.words}", besides)


def _too_thin(physics: Physics, held: Protected, rating_a: float) -> list[Wire]:
    """Wires that may not carry a rating for ever, the least first; one in a zone too hot for it is another matter."""
    share = limit("fuse-to-wire", physics.network.design.limits).value.value
    allowed = (physics.allowed[element.name] for element in held.held)
    thin = [one for one in allowed if one.ambient_degc < one.rating_degc and one.allowed_a * share < rating_a]
    return [physics.network.wire_of[one.mark] for one in sorted(thin, key=lambda one: one.allowed_a)]


def _weakest_contact_a(network: Network, held: Protected) -> float:
    """The least rating of a contact, switch or relay that lies in the trunk behind a fuse, in A."""
    ways = network.ways
    feeds: list[float] = []
    seen: set[str] = set()
    node = held.near
    # Up to where the way branches, all that the fuse lets through runs through each contact.
    while node not in seen:
        seen.add(node)
        onward = [(at, each) for at, each in ways.at(node) if at not in seen and each.kind is not ElementKind.FUSE]
        if len(onward) != 1:
            break
        node, element = onward[0]
        device = element.device
        if element.kind in (ElementKind.CONTACT, ElementKind.MATING):
            feeds.append(network.parts.contacts[element.part].current_a.value)
        elif element.wire is not None:
            landed = (network.contact_at(end) for end in element.wire.ends if end.kind is EndKind.LANDING)
            feeds += [each.current_a.value for each in landed if each is not None]
        elif isinstance(device, Relay):
            feeds.append(network.parts.relays[device.part].current_a.value)
        elif isinstance(device, Switch) and device.current_a is not None:
            feeds.append(device.current_a.value)
    return min(feeds, default=float("inf"))
