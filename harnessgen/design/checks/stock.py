"""Whether what the stock says makes sense by itself: each of these checks is a fault of the file."""

from collections.abc import Iterator

from harnessgen.design.checks.consistency import family_for, wire_families
from harnessgen.design.records.design import Design
from harnessgen.parts.library import Parts
from harnessgen.source.fault import Fault


def senseless_stock(design: Design, parts: Parts) -> Iterator[Fault]:
    """A fault for each piece of stock of a size that its wire family does not have."""
    for name, piece in design.stock.items():
        families = wire_families(design, piece.wire)
        if any(family not in parts.wires for family in families):
            # A family that stands nowhere is told by its name.
            continue
        if family_for(parts, families, piece.size) is None:
            offered = "; ".join(f"{family}: {parts.wires[family].sizes_text}" for family in families)
            message = f"No {piece.size} wire is made in {' or '.join(families)}."
            yield Fault("bad-value", piece.where("size"), message, f"sizes of {offered}", subject=name)
