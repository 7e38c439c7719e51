"""From files to one design whose names all exist and whose parts make sense, with all faults in one go."""

from collections.abc import Mapping
from dataclasses import replace

from harnessgen.design.checks.consistency import has_route, senseless
from harnessgen.design.checks.fixings import senseless_fixings
from harnessgen.design.checks.lengths import senseless_lengths
from harnessgen.design.checks.limits import senseless_limits
from harnessgen.design.checks.names import missing_names
from harnessgen.design.checks.stock import senseless_stock
from harnessgen.design.checks.vehicle import designators_taken, senseless_vehicle
from harnessgen.design.measured import with_measured_lengths
from harnessgen.design.reading.read import DesignFiles
from harnessgen.design.reading.runs import with_banks_expanded
from harnessgen.design.reading.vehicle import with_vehicle
from harnessgen.design.records.design import Design
from harnessgen.design.records.state import ASSUMED_STATE, assumed_state
from harnessgen.measures.frozen import frozen
from harnessgen.parts.library import Parts, packaged_parts
from harnessgen.source.fault import Fault
from harnessgen.source.place import Place


@frozen
class Understood:
    """A design as far as it could be understood.

    `written` is None when there is nothing to work with (unreadable, or no route). `expanded` has the banks written
    out, and is None too when the faults leave nothing to draw conclusions from. `parts` is the whole shelf.
    """

    written: Design | None
    expanded: Design | None
    parts: Parts
    faults: tuple[Fault, ...]
    texts: Mapping[str, str]


def understand(files: DesignFiles) -> Understood:
    """Check what was read; a design with an unknown key can still be worked with, one that lost a value cannot."""
    design = files.design
    shelf = packaged_parts()
    if design is None:
        return Understood(None, None, shelf, files.faults, files.texts)
    parts = design.parts.over(shelf)
    faults = list(files.faults)
    taken = list(designators_taken(design))
    design = with_vehicle(design)
    design, unmeasured = with_measured_lengths(design, is_complete=files.is_complete)
    found = [
        *_untitled(design, files),
        *unmeasured,
        *senseless(design, parts),
        *senseless_lengths(design),
        *senseless_limits(design),
        *senseless_stock(design, parts),
        *senseless_fixings(design, parts),
        *taken,
        *senseless_vehicle(design, parts),
    ]
    try:
        expanded = with_banks_expanded(design)
    except ValueError:
        # A bank whose connectors cannot be counted is told by `senseless`.
        expanded = design
    found += missing_names(files, expanded, parts)
    if files.lacks_file:
        # What is missing may stand in the file that could not be had.
        found = [fault for fault in found if fault.rule not in ("unknown-reference", "missing-key")]
    faults += found
    if not has_route(design):
        if "route" not in files.declared and not files.lacks_file:
            message = "The design has no route."
            faults.append(Fault("missing-key", _first_place(design), message, "add route: {from: {to: length}}"))
        return Understood(None, None, parts, tuple(faults), files.texts)
    if not expanded.states:
        expanded = replace(expanded, states={ASSUMED_STATE: assumed_state((*expanded.switches, *expanded.drivers))})
    is_sound = files.is_complete and not found
    return Understood(design, expanded if is_sound else None, parts, tuple(faults), files.texts)


def _untitled(design: Design, files: DesignFiles) -> list[Fault]:
    # A title block that could not be read is told where it stands.
    if design.harness is not None or "harness" in files.declared:
        return []
    message = "The design has no title block."
    return [Fault("missing-key", _first_place(design), message, "add harness: {title, number, revision}")]


def _first_place(design: Design) -> Place:
    at = design.place
    return at._replace(end=at.start + 1, end_line=at.line, end_column=at.column + 1)
