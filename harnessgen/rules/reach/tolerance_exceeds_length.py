"""A length with a tolerance that is larger than the length itself."""

from collections.abc import Iterator

from harnessgen.evidence.finding import Finding, Number, Severity
from harnessgen.measures.quantity import Quantity
from harnessgen.network.network import Network
from harnessgen.source.place import Place

RULE = "tolerance-exceeds-length"


def check(network: Network) -> list[Finding]:
    """One finding for each stretch, place of a splice and stated cut whose tolerance is larger than its length."""
    return [
        _finding(subject, place, words, length)
        for subject, place, words, length in _lengths(network)
        if length is not None and length.value > 0 and max(length.plus, length.minus) > length.value
    ]


def _lengths(network: Network) -> Iterator[tuple[str, Place, str, Quantity | None]]:
    for start, ways in network.design.route.items():
        for end, stretch in ways.items():
            name = f"{start} to {end}"
            place = stretch.where("length_mm") if "length_mm" in stretch.places else stretch.place
            yield name, place, f"The stretch from {start} to {end}", stretch.length_mm
            if stretch.build is not None:
                built = Quantity(stretch.length_mm.value, stretch.build.plus, stretch.build.minus)
                yield name, stretch.where("build"), f"The finished stretch from {start} to {end}", built
    for splice in network.design.splices.values():
        yield splice.name, splice.where("offset_mm"), f"The offset of splice {splice.name}", splice.offset_mm
    for wire in network.wires:
        yield wire.mark, wire.place, f"The stated length of wire {wire.mark}", wire.cut_mm


def _finding(subject: str, place: Place, words: str, length: Quantity) -> Finding:
    numbers = (
        Number("tolerance", max(length.plus, length.minus), "mm", "the larger of both sides", 1),
        Number("length", length.value, "mm", subject, 1),
    )
    message = f"{words} has a tolerance that is larger than itself."
    mend = "write the tolerance of the measurement, which is a small part of the length"
    return Finding(RULE, Severity.ERROR, subject, place, message, numbers, mend=mend)
