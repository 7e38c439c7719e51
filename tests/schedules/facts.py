"""What the schedules of a harness have to say, gathered from the model by other ways than the schedules take.

Wires at a place come from the electrical graph, sides of a splice from the shortest way in the route, contacts and
seals from the part records, counts from the wires one by one.
"""

import math
from collections import Counter, defaultdict
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import groupby
from typing import Any

import networkx

from harnessgen.bench.steps.output_pulses import PulsePlan
from harnessgen.cutting.plan import CutPlan
from harnessgen.design.limits.table import CHOICES, DEFAULT_LIMITS, chosen, limit
from harnessgen.design.records.design import Design
from harnessgen.lengths.bundles.bend_radius import least_radius
from harnessgen.lengths.bundles.grommets import all_slides
from harnessgen.lengths.bundles.lay_up import lay_up
from harnessgen.lengths.bundles.stretch import (
    StretchBundle,
    copper_g_per_m,
    covering_g_per_m,
    diameter_mm,
    insulation_g_per_m,
    stretch_bundles,
)
from harnessgen.lengths.too_short.remedies import remedies
from harnessgen.measures.designator import natural_key
from harnessgen.measures.quantity import plain_number, tolerance_text
from harnessgen.network.electrical import ElementKind
from harnessgen.network.fixings import fixings_on
from harnessgen.network.network import Network
from harnessgen.network.wires import Wire
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.rules.loading.excess_drop import drop_limit, harness_derivation, working_states
from harnessgen.schedules.bundles.assembly_order import before_words
from harnessgen.schedules.bundles.bundle_list import supports
from harnessgen.schedules.bundles.covering_list import covered_mm
from harnessgen.schedules.bundles.fixing_list import fixing_rows
from harnessgen.schedules.parts_to_buy import buy_rows
from harnessgen.schedules.tables.length_text import inches_text, length_with_unit
from harnessgen.schedules.tables.table import Cell
from harnessgen.schedules.wires.crimp_force import crimp_force

# IEC 60757, letter codes of colours; GNYE is one colour.
_COLOURS = {
    "BK": "black", "BN": "brown", "RD": "red", "OG": "orange", "YE": "yellow", "GN": "green", "BU": "blue",
    "VT": "violet", "GY": "grey", "WH": "white", "PK": "pink", "TQ": "turquoise",
}  # fmt: skip

Facts = dict[str, Cell]


def wires_at(network: Network, node: str) -> list[Wire]:
    """Wires with an end at an electrical node, by the graph."""
    edges = network.graph.edges(node, keys=True, data="record") if node in network.graph else ()
    return [network.wire_of[key] for _, _, key, record in edges if record.kind is ElementKind.WIRE]


def section_numbers(network: Network) -> dict[str, str]:
    """Number of each section by the marks of its wires' letter."""
    return {each.letter: each.number for each in network.sections.sections}


def _other(wire: Wire, node: str) -> Any:
    first, second = wire.ends
    return second if first.node == node else first


@lru_cache
def _laid_out(design: Design) -> "networkx.Graph[str]":
    """The route as the design writes it, its stretches parted at the joints on them; points begin with `at `."""
    on: defaultdict[frozenset[str], list[tuple[str, str, float]]] = defaultdict(list)
    graph: networkx.Graph[str] = networkx.Graph()
    for name, splice in design.splices.items():
        if splice.toward and splice.offset_mm.value:
            on[frozenset((splice.at, splice.toward))].append((name, splice.at, splice.offset_mm.value))
        else:
            graph.add_edge(f"at {splice.at}", name)
    for first, stretches in design.route.items():
        for last, stretch in stretches.items():
            own = on[frozenset((first, last))]
            from_first = [(mm if at == first else stretch.length_mm.value - mm, name) for name, at, mm in own]
            networkx.add_path(graph, [f"at {first}", *(name for _, name in sorted(from_first)), f"at {last}"])
    return graph


def side_of_barrel(network: Network, splice: str, wire: Wire) -> str:
    """The neighbouring point on the shortest way of a wire from a splice to its other end; `beyond` another joint."""
    design, graph = network.design, _laid_out(network.design)
    far = _other(wire, splice)
    at = far.node if far.node in design.splices else "at " + _at(design, far.designator)
    way = networkx.shortest_path(graph, splice, at)
    points = [node.removeprefix("at ") for node in way if node.startswith("at ")]
    if not points:
        ends = [f"at {point}" for point in (design.splices[splice].at, design.splices[splice].toward)]
        points = [end.removeprefix("at ") for end in ends if at in networkx.shortest_path(graph, splice, end)]
    if points[0] == design.splices[splice].at and not design.splices[splice].offset_mm.value:
        points = points[1:]
    return points[0] if points else ""


def _at(design: Design, designator: str) -> str:
    for name in (designator, designator[:-1]):
        for things in (design.connectors, design.devices, design.disconnects):
            if name in things:
                return str(things[name].at)
    raise KeyError(designator)


def end_facts(network: Network, wire: Wire, node: str) -> Facts:
    """One end of a wire: words, terminal, strip length, seal, what slides on first, label, pull of its crimp."""
    design, parts = network.design, network.parts
    end = next(each for each in wire.ends if each.node == node)
    facts: Facts = {"seal": "", "label": f"{wire.mark} {node}"}
    record: Any
    if node in design.splices:
        side = side_of_barrel(network, node, wire)
        facts["end"] = f"splice {node}, side of {side}" if side else f"splice {node}"
        title = design.harness
        record = parts.splices[
            design.splices[node].part or (title.splice if title else "") or network.splice_part(node).name
        ]
    else:
        record = network.contact_at(end)
        if "/" not in node:
            facts["end"] = node
        elif node.split("/")[0] in design.connectors:
            facts["end"] = f"connector {node.replace('/', ' cavity ', 1)}"
        elif node.split("/")[0][:-1] in design.disconnects:
            facts["end"] = f"half {node.replace('/', ' cavity ', 1)}"
        else:
            facts["end"] = f"{node.replace('/', ' terminal ', 1)}"
        seal = network.seal_at(end)
        facts["seal"] = seal.name if seal is not None else ""
    facts["terminal"] = record.name if record is not None else ""
    owner = node.split("/")[0]
    if "/" in node and owner in design.connectors:
        facts["terminal"] = f"{record.name} {'pin' if design.connectors[owner].half == 'pins' else 'socket'}"
    elif "/" in node and owner[:-1] in design.disconnects:
        facts["terminal"] = f"{record.name} {'pin' if owner.endswith('p') else 'socket'}"
    facts["strip_mm"] = record.strip_mm.value if record is not None else 0.0
    force = crimp_force(wire.size)
    facts["pull_n"] = force.force_n if force is not None and record is not None else None
    facts["slide_on"] = "; ".join(filter(None, [str(facts["seal"]), *_slid(network, wire, node)]))
    return facts


def _slid(network: Network, wire: Wire, node: str) -> list[str]:
    """Sleeve of the splice, where this is the side with the fewest wires, then coverings and grommets."""
    found = []
    if node in network.design.splices and network.splice_part(node).sleeve:
        sides = Counter(side_of_barrel(network, node, each) for each in wires_at(network, node))
        fewest = min(sides.values())
        first = min((side for side in sides if sides[side] == fewest), key=natural_key)
        if side_of_barrel(network, node, wire) == first:
            found.append(f"{network.splice_part(node).sleeve} of {node}")
    section = next(each for each in network.sections.sections if each.letter == wire.section)
    found += [
        f"{slide.thing} of {slide.stretch}"
        for slide in all_slides(network, section)
        if any(pair == (wire.mark, node) for each in slide.blocked if not each.is_housing for pair in each.ends)
    ]
    return list(dict.fromkeys(found))


def _colour_words(code: str) -> str:
    if code == "GNYE":
        return "green-and-yellow"
    base, _, stripe = code.partition("/")
    return _COLOURS[base] + (f" with {_COLOURS[stripe]} stripe" if stripe else "")


def cut_facts(physics: Physics, wire: Wire) -> Facts:
    """One wire with both its ends."""
    network = physics.network
    force = crimp_force(wire.size)
    length = physics.lengths[wire.mark]
    ends = [end_facts(network, wire, end.node) for end in wire.ends]
    has_crimp = force is not None and any(each["terminal"] for each in ends)
    facts: Facts = {
        "section": section_numbers(network)[wire.section],
        "mark": wire.mark, "circuit": wire.circuit, "colour": str(wire.colour),
        "colour_words": _colour_words(str(wire.colour)), "size": str(wire.size), "family": wire.family.name,
        "cut_mm": length.cut_mm, "needed_mm": length.needed_mm,
        "pull_n": force.force_n if has_crimp and force else None,
        "pull_by": str(force.source) if has_crimp and force else "",
    }  # fmt: skip
    for number, end in enumerate(ends, 1):
        facts |= {f"{key}_{number}": end[key] for key in ("end", "terminal", "seal", "slide_on", "label")}
        facts[f"strip_{number}_mm"] = end["strip_mm"]
    return facts | inches_of(network, cut_in=length.cut_mm)


def inches_of(network: Network, **lengths_mm: float | None) -> Facts:
    """Lengths to cut in inches, rounded up to a sixteenth; nothing of a design in millimetres."""
    if network.design.units.length not in ("in", "ft"):
        return {}
    found: Facts = {}
    for key, length_mm in lengths_mm.items():
        whole, sixteenths = divmod(math.ceil(round((length_mm or 0.0) / 25.4 * 16, 6)), 16)
        part = str(Fraction(sixteenths, 16)) if sixteenths else ""
        found[key] = " ".join(filter(None, [str(whole) if whole else "", part]))
    return found


def sheet_facts(physics: Physics, wire: Wire) -> list[Facts]:
    """The same for the bench: a row for each end; where nothing is crimped no strip length is printed."""
    whole = cut_facts(physics, wire)
    shared = {
        key: whole[key] for key in ("mark", "circuit", "colour", "size", "family", "cut_mm", "cut_in") if key in whole
    }
    rows = [shared | end_facts(physics.network, wire, end.node) for end in wire.ends]
    return [row | {"strip_mm": row["strip_mm"] or None} for row in rows]


def splice_facts(network: Network, letter: str) -> list[Facts]:
    """Every wire in every splice, by the electrical graph."""
    rows: list[Facts] = []
    for name, tap in network.design.vehicle.taps.items():
        circuit = network.design.vehicle.circuits[tap.onto]
        (ours,) = wires_at(network, name)
        # Each tapped wire of the shipped designs has one tap, and names its ends by terminal but for a bare fuse.
        starts = str(circuit.from_) if circuit.from_.terminal else f"{circuit.from_}/out"
        for letter_of_piece, other in (("A", starts), ("B", str(circuit.to))):
            rows.append(
                {
                    "section": section_numbers(network)[ours.section], "splice": name, "place": tap.at,
                    "part": network.splice_part(name).name, "mark": tap.onto + letter_of_piece, "circuit": tap.onto,
                    "colour": "vehicle's own", "size": str(circuit.size),
                    "strip_mm": network.splice_part(name).strip_mm.value, "leaves_towards": "", "other_end": other,
                }
            )  # fmt: skip
    for name, splice in network.design.splices.items():
        offset = f", {length_with_unit(splice.offset_mm.value, network.design.units.length)} towards {splice.toward}"
        for wire in wires_at(network, name):
            end = end_facts(network, wire, name)
            rows.append(
                {
                    "section": section_numbers(network)[wire.section], "splice": name,
                    "place": splice.at + (offset if splice.toward and splice.offset_mm.value else ""),
                    "part": end["terminal"], "mark": wire.mark, "circuit": wire.circuit, "colour": str(wire.colour),
                    "size": str(wire.size), "strip_mm": network.parts.splices[str(end["terminal"])].strip_mm.value,
                    "leaves_towards": side_of_barrel(network, name, wire), "other_end": _other(wire, name).node,
                }
            )  # fmt: skip
    return [row for row in rows if row["section"] == section_numbers(network)[letter]]


def given_mark(network: Network, node: str) -> str:
    """Mark of the vehicle's wire that ends in a cavity, by what the design says; empty where none does."""
    vehicle = network.design.vehicle
    tapped = {tap.onto for tap in vehicle.taps.values()}
    for name, circuit in vehicle.circuits.items():
        for end, letter in ((circuit.from_, "A"), (circuit.to, "B")):
            if str(end) == node:
                return name + (letter if name in tapped else "")
    return ""


def cavity_facts(network: Network, letter: str) -> list[Facts]:
    """Every cavity of the connectors of a section; unused ones side by side with one fill are one row."""
    rows: list[Facts] = []
    design, letter_of = network.design, network.sections.letter_of
    held = [
        (name, each.part, each.half, letter_of[network.route.node_of(each.at)], each.seal)
        for name, each in design.connectors.items()
    ]
    for name, each in design.disconnects.items():
        for kind, contacts in (("s", "sockets"), ("p", "pins")):
            sections = {wire.section for wire in network.wires for end in wire.ends if end.designator == name + kind}
            held += [(name + kind, each.part, contacts, section, each.seal) for section in sections]
    for name, part_name, contacts, section, own_seal in held:
        if section != letter:
            continue
        part = network.parts.connectors[part_name]
        fills = design.connectors[name].cavities if name in design.connectors else {}

        given = design.vehicle.connectors.get(name)

        def fill_of(
            cavity: str, fills: Any = fills, own: str = own_seal, part: Any = part, name: str = name, given: Any = given
        ) -> str:
            if (given is not None and cavity in given.occupied) or given_mark(network, f"{name}/{cavity}"):
                return "vehicle's own wire"
            if given is not None:
                return "free, as the vehicle has it"
            seal = (fills[cavity].seal if cavity in fills else "") or own or part.seal
            return "cavity plug" if seal else "empty"

        empty = dict.fromkeys(("mark", "circuit", "colour", "size", "terminal", "other_end"), "")
        head = {"section": section_numbers(network)[letter], "connector": name, "contacts": contacts}

        def run_of(cavity: str, name: str = name, fill_of: Any = fill_of) -> str:
            node = f"{name}/{cavity}"
            return cavity if wires_at(network, node) or given_mark(network, node) else fill_of(cavity)

        runs = groupby(part.cavities, key=run_of)
        for _, run in runs:
            cavities = list(run)
            node = f"{name}/{cavities[0]}"
            wires = wires_at(network, node)
            if not wires:
                joint = " and " if len(cavities) == 2 else " to "
                words = cavities[0] if len(cavities) == 1 else f"{cavities[0]}{joint}{cavities[-1]}"
                mark = given_mark(network, node)
                rows.append({**empty, **head, "cavity": words, "mark": mark, "fill": fill_of(cavities[0])})
            for wire in wires:
                end = end_facts(network, wire, node)
                rows.append(
                    {
                        **head, "cavity": cavities[0], "mark": wire.mark, "circuit": wire.circuit,
                        "colour": str(wire.colour), "size": str(wire.size), "terminal": end["terminal"],
                        "fill": end["seal"], "other_end": _other(wire, node).node,
                    }
                )  # fmt: skip
    return rows


def sample_facts(network: Network) -> list[Facts]:
    """Crimps counted end by end."""
    counted: Counter[tuple[str, str, str, Any]] = Counter()
    for wire in network.wires:
        for end in wire.ends:
            terminal = str(end_facts(network, wire, end.node)["terminal"])
            if terminal:
                counted[terminal, str(wire.size), wire.family.name, wire.size] += 1
    samples = math.ceil(limit("sample-crimps", network.design.limits).value.value)
    rows: list[Facts] = []
    for (terminal, size, family, conductor), count in counted.items():
        force = crimp_force(conductor)
        rows.append(
            {
                "terminal": terminal, "size": size, "family": family, "crimps": count, "samples": samples,
                "pull_n": force.force_n if force else None,
                "pull_by": str(force.source) if force else "not in the tables",
            }
        )  # fmt: skip
    return rows


def pieces_to_buy(network: Network) -> dict[tuple[str, str], int]:
    """Pieces in the harness by kind and part, counted from the design and the ends of the wires."""
    design = network.design
    counted: Counter[tuple[str, str]] = Counter()
    for wire in network.wires:
        for end in wire.ends:
            facts = end_facts(network, wire, end.node)
            if end.node not in design.splices and facts["terminal"]:
                counted["terminal", str(facts["terminal"])] += 1
            if facts["seal"]:
                counted["seal", str(facts["seal"])] += 1
    for name, connector in design.connectors.items():
        counted["connector", connector.part] += name not in design.vehicle.connectors
    for disconnect in design.disconnects.values():
        counted["connector", disconnect.part] += 2
    for name in design.splices:
        counted["splice", network.splice_part(name).name] += 1
    for name, fuse in design.fuses.items():
        counted["fuse", fuse.form] += name not in design.vehicle.fuses
    for name, relay in design.relays.items():
        counted["relay", relay.part] += name not in design.vehicle.relays
    return {kind: count for kind, count in counted.items() if count}


def wire_metres(physics: Physics) -> dict[tuple[str, str, str], float]:
    """Metres of wire to cut by family, size and colour."""
    cut_mm: defaultdict[tuple[str, str, str], list[float]] = defaultdict(list)
    for wire in physics.network.wires:
        if not wire.run.is_cut_measured:
            cut_mm[wire.family.name, str(wire.size), str(wire.colour)].append(physics.lengths[wire.mark].cut_mm)
    return {kind: math.fsum(lengths) / 1000 for kind, lengths in cut_mm.items()}


def mass_of_wires(physics: Physics, letter: str) -> tuple[float, float]:
    """Copper and insulation of the cut wires of a section, g."""
    own = [each for each in physics.network.wires if each.section == letter]
    metres = {each.mark: physics.lengths[each.mark].cut_mm / 1000.0 for each in own}
    return (
        math.fsum(copper_g_per_m(each) * metres[each.mark] for each in own),
        math.fsum(insulation_g_per_m(each) * metres[each.mark] for each in own),
    )


def covering_facts(network: Network, letter: str) -> list[Facts]:
    """Every covered stretch of the design, its piece longer by the share of it that is lost."""
    rows: list[Facts] = []
    step_mm = limit("cutting-step", network.design.limits).value.value
    section = next(each for each in network.sections.sections if each.letter == letter)
    names = {(leg.from_point, leg.to_point) for leg in section.legs}
    slides = {(each.stretch, each.thing): each for each in all_slides(network, section)}
    for first, stretches in network.design.route.items():
        for last, stretch in stretches.items():
            if not stretch.covering or (first, last) not in names:
                continue
            part = network.parts.coverings[stretch.covering]
            over_mm = stretch.slack_mm.value + stretch.drip_loop_mm.value + stretch.movement_mm.value
            covers_mm = stretch.built_mm.value if stretch.built_mm else stretch.length_mm.value + over_mm
            share = part.shortening.value
            cut_mm = max(math.ceil(round(covers_mm / (1 - share) / step_mm, 6)), 1) * step_mm
            slide = slides.get((f"{first} to {last}", part.name))
            before = before_words(slide) if slide is not None else ""
            facts: Facts = {
                "section": section.number, "stretch": f"{first} to {last}", "covering": stretch.covering,
                "title": part.title, "covers_mm": covers_mm, "loses": f"{100 * share:g} %" if share else "none",
                "cut_mm": cut_mm, "goes_on": f"from {slide.side}, before {before}" if slide and before else "",
            }  # fmt: skip
            finished = {"covers_in": inches_text(covers_mm)} if network.design.units.length in ("in", "ft") else {}
            rows.append(facts | finished | inches_of(network, cut_in=cut_mm))
    return rows


def order_facts(network: Network, letter: str) -> list[Facts]:
    """Closed coverings and grommets with what they do not pass, and the sleeve of every splice."""
    section = next(each for each in network.sections.sections if each.letter == letter)
    rows: list[Facts] = []
    for slide in all_slides(network, section):
        largest = slide.largest
        needed_mm = largest.needed_mm if largest is not None else math.inf
        rows.append(
            {
                "section": section.number, "thing": slide.thing, "place": slide.stretch, "side": slide.side,
                "before": before_words(slide) or "any time: it passes all that is finished",
                "largest": f"{largest.part} at {largest.node}" if largest is not None else "",
                "needed_mm": needed_mm if needed_mm < math.inf else None, "inside_mm": slide.inside_mm,
                "nodes": ", ".join(each.node for each in slide.blocked),
            }
        )  # fmt: skip
    for name in network.design.splices:
        wires, sleeve = wires_at(network, name), network.splice_part(name).sleeve
        if not sleeve or not wires or wires[0].section != letter:
            continue
        sides = Counter(side_of_barrel(network, name, each) for each in wires)
        side = min(sides, key=lambda each: (sides[each], natural_key(each)))
        rows.append(
            {
                "section": section.number, "thing": f"{sleeve} of {name}", "place": name, "side": side,
                "before": f"{name} is crimped", "largest": "", "needed_mm": None, "inside_mm": None, "nodes": name,
            }
        )  # fmt: skip
    return rows


def bundle_facts(network: Network, letter: str) -> list[Facts]:
    """The stretches of a section that hold a wire; masses of its wires and its covering by their length."""
    section = next(each for each in network.sections.sections if each.letter == letter)
    rows: list[Facts] = []
    for bundle in stretch_bundles(network):
        first, last = bundle.leg.from_point, bundle.leg.to_point
        own = [leg for leg in section.legs if (leg.from_point, leg.to_point) == (first, last)]
        if not own:
            continue
        stretch = network.design.route[first][last]
        length_mm = covered_mm(bundle.leg)
        through = [(wire, leg.share) for leg in own for wire in network.wires if leg in wire.way]
        # Copper of 8.89 g/cm3 (IEC 60028).
        copper_g = math.fsum(wire.figures.area_mm2.value * share * length_mm * 8.89e-3 for wire, share in through)
        insulation_g = math.fsum(insulation_g_per_m(wire) * share * length_mm / 1000 for wire, share in through)
        part = network.parts.coverings[stretch.covering] if stretch.covering else None
        covering_g = covering_g_per_m(part) * length_mm / 1000 if part else 0.0
        least = least_radius(network, bundle)
        clips, ties = supports(network, bundle, length_mm)
        diameters = [diameter_mm(wire) for wire in bundle.wires]
        fill = 100 * math.fsum(each**2 for each in diameters) / part.inside_mm.value**2 if part else None
        things = Counter(each.name for each in fixings_on(network, bundle.leg) if each.kind != "clip")
        rows.append(
            {
                "section": section.number, "stretch": f"{first} to {last}", "wires": len(bundle.wires),
                "diameter_mm": bundle.diameter.diameter_mm, "method": bundle.diameter.method.value,
                "covering": stretch.covering, "fill": fill, "outside_mm": bundle.outside_mm,
                "bend_mm": least.diameter_mm * least.times.value.value, "bend_by": least.what,
                "clips": clips, "ties": ties,
                "fixed": ", ".join(name if count == 1 else f"{count} x {name}" for name, count in things.items()),
                "lay": _twisted(network, bundle), "copper_g": copper_g, "insulation_g": insulation_g,
                "covering_g": covering_g, "mass_g": copper_g + insulation_g + covering_g,
                "marks": ", ".join(each.mark for each in bundle.wires),
            }
        )  # fmt: skip
    return rows


def _twisted(network: Network, bundle: StretchBundle) -> str:
    """Layers of each twisted cable in a stretch that is not twisted itself."""
    assert bundle.leg.stretch.lay_length_mm is None
    cables = network.design.cables
    twisted = [name for name in dict.fromkeys(wire.cable for wire in bundle.wires) if name]
    cores = {name: [wire for wire in bundle.wires if wire.cable == name] for name in twisted}
    return "; ".join(
        f"{name}: {lay_up([diameter_mm(wire) for wire in own])}"
        for name, own in cores.items()
        if cables[name].lay == "twisted"
    )


def mass_facts(physics: Physics) -> list[Facts]:
    """Masses by section and of all, by the cut lengths of the wires and the covered stretches."""
    network = physics.network
    sums: list[tuple[str, float, float, float]] = []
    for section in network.sections.sections:
        copper_g, insulation_g = mass_of_wires(physics, section.letter)
        covering_g = math.fsum(float(row["covering_g"] or 0.0) for row in bundle_facts(network, section.letter))
        sums.append((section.number, copper_g, insulation_g, covering_g))
    if len(sums) > 1:
        sums.append(("whole harness", *(math.fsum(row[at] for row in sums) for at in (1, 2, 3))))  # type: ignore[misc]
    keys = ("section", "copper_g", "insulation_g", "covering_g")
    return [dict(zip(keys, row, strict=True)) | {"mass_g": math.fsum(row[1:])} for row in sums]


def buy_facts(physics: Physics) -> list[Facts]:
    """Rows of what is bought, their quantities from the counts and lengths above."""
    network = physics.network
    pieces, metres = pieces_to_buy(network), wire_metres(physics)
    in_rows = Counter[tuple[str, str]]()
    rows: list[Facts] = []
    for row in buy_rows(network, physics):
        needed = row.needed
        if row.kind == "wire":
            needed = next(
                length_m
                for (family, size, colour), length_m in metres.items()
                if family == row.part and row.what.startswith(f"{size}, {colour} (")
            )
        elif (row.kind, row.part) in pieces:
            in_rows[row.kind, row.part] += int(row.needed)
        step = 10 if row.unit == "m" else 1
        rows.append(
            {
                "kind": row.kind, "part": row.part, "what": row.what, "needed": needed, "extra": row.extra,
                "buy": math.ceil(round((needed + row.extra) * step, 6)) / step, "unit": row.unit, "why": row.why,
            }
        )  # fmt: skip
    assert in_rows == pieces
    assert len(metres) == sum(row["kind"] == "wire" for row in rows)
    return rows


def volts_facts(physics: Physics) -> list[Facts]:
    """Volts of every load; those of the feed are what supply, load and return leave, the ends are seen from ground."""
    rows: list[Facts] = []
    judged = set(working_states(physics))
    for state in physics.network.design.states:
        for case in (Case.STATED, Case.WEAK):
            for drop in physics.drops_in(state, case):
                is_judged = case is Case.WEAK and state in judged and drop.load in physics.network.design.loads
                share = drop_limit(physics.network, drop).value.value
                amperes = physics.points[state].amperes[drop.load] if case is Case.STATED else drop.current_a
                across_v = drop.high_v - drop.low_v
                rows.append(
                    {
                        "state": state, "case": case.value, "load": drop.load, "title": drop.title,
                        "ampere": abs(amperes), "supply_volt": drop.supply_v,
                        "feed_volt": drop.supply_v - across_v - drop.return_v, "across_volt": across_v,
                        "return_volt": drop.return_v, "high_volt": across_v + drop.return_v, "low_volt": drop.return_v,
                        "harness_volt": harness_derivation(drop).result,
                        "allowed_volt": share * drop.supply_v if is_judged else None,
                    }
                )  # fmt: skip
    return rows


def fixing_facts(network: Network, letter: str) -> list[Facts]:
    """Clips, tapes and grommets of the design, stretch by stretch, where each has a place of its own."""
    section = next(each for each in network.sections.sections if each.letter == letter)
    rows: list[Facts] = []
    for row in fixing_rows(network, section):
        first, last = row.stretch.split(" to ")
        stretch = network.design.route[first][last]
        is_tape = row.kind == "tape"
        named = {"clip": "", "tape": row.name, "grommet": row.name}[row.kind]
        rows.append(
            {
                "section": section.number, "kind": row.kind, "name": named,
                "what": f"{row.title}, {row.what}" if row.title else row.what, "stretch": f"{first} to {last}",
                "place": row.place, "datum": row.datum, "count": row.count, "around_mm": row.around_mm,
                "covers_mm": row.covers_mm if is_tape else None, "cut_mm": row.cut_mm if is_tape else None,
                "goes_on": row.goes_on, **inches_of(network, cut_in=row.cut_mm if is_tape else None),
            }
        )  # fmt: skip
        assert row.datum in (first, last, "")
        assert bool(stretch.tape) or not is_tape
    return rows


def cutting_facts(plan: CutPlan) -> list[Facts]:
    """Every cut with its spool, what is left after it, and what becomes of the rest after the last."""
    rows: list[Facts] = []
    for kind in plan.kinds:
        head = {"family": kind.kind.family, "size": kind.kind.size, "colour": kind.kind.colour}
        for spool in kind.spools:
            for at, cut in enumerate(spool.cuts, 1):
                left_mm = spool.length_mm - math.fsum(each.length_mm for each in spool.cuts[:at])
                is_kept = left_mm >= plan.tail.value.value
                end = "used up" if left_mm < 1e-6 else "back to the shelf" if is_kept else "scrap"
                rows.append(
                    {
                        **head, "spool": spool.label, "stock_mm": spool.length_mm, "mark": cut.mark,
                        "copy": str(cut.copy), "cut_mm": cut.length_mm, "left_mm": left_mm,
                        "then": end if at == len(spool.cuts) else "",
                    }
                )  # fmt: skip
        rows += [
            {
                **head, "spool": "bought by the metre", "stock_mm": None, "mark": cut.mark, "copy": str(cut.copy),
                "cut_mm": cut.length_mm, "left_mm": None, "then": "",
            }
            for cut in kind.loose
        ]  # fmt: skip
    return rows


def pulse_facts(plans: Sequence[PulsePlan]) -> list[Facts]:
    """What is entered for each output; duty and length of a burst by period, time on and number."""
    rows: list[Facts] = []
    for plan in plans:
        period_ms, count = plan.period.result, plan.count.result
        facts: Facts = {
            "output": plan.output, "meanwhile": plan.meanwhile, "with": plan.sees, "speed": plan.rpm,
            "period": period_ms, "on": plan.on_ms,
            "duty": 100 * plan.on_ms / period_ms, "pulses": count, "lasts": count * period_ms / 1000,
            "shows": plan.shows, "peak": plan.peak_a, "rms": plan.rms_a,
            "limits": f"PASSED: {plan.excess}" if plan.excess else "kept, as far as stated",
            "longest": plan.longest_ms, "coil": "" if plan.peak_a is None else "no inductance known",
            "pulse_heat": None, "power": None, "burst_heat": None, "warms": "",
        }  # fmt: skip
        if not plan.on_ms:
            facts |= dict.fromkeys(("on", "duty", "pulses", "lasts"))
        if plan.coil is not None:
            pulse_j, rise = plan.coil.pulse.result, plan.coil.rise
            facts |= {
                "coil": plan.coil.load, "pulse_heat": 1000 * pulse_j, "power": 1000 * pulse_j / period_ms,
                "burst_heat": count * pulse_j, "warms": f"{rise.result:.1f} K" if rise is not None else "not known",
            }  # fmt: skip
        rows.append(facts)
    return rows


def fuel_facts(physics: Physics) -> list[Facts]:
    """Each injector of each set; its verdict says that it is odd where it is."""
    return [
        {
            "state": state, "set": spread.of, "load": each.load, "title": each.title, "volt": each.volts,
            "dead_ms": 1000 * each.dead_s, "off_percent": 100 * each.flow,
            "match_percent": 100 * spread.match.value.value,
            "verdict": ("odd: " if each in spread.odd else "") + spread.evenness.value,
        }
        for state, spreads in physics.fuel_spreads.items()
        for spread in spreads
        for each in spread.openings
    ]  # fmt: skip


def limit_facts(network: Network) -> list[Facts]:
    """Limits of a design that sets none: each default with its unit and source, and the choices between words."""
    rows: list[Facts] = []
    for name in DEFAULT_LIMITS:
        held = limit(name)
        words = [plain_number(held.value.value)] if held.value.value or not tolerance_text(held.value) else []
        words += [tolerance_text(held.value)] if tolerance_text(held.value) else []
        unit = "" if held.unit == "1" else held.unit
        rows.append({"limit": name, "value": " ".join(words), "unit": unit, "source": str(held.source)})
    for name in CHOICES:
        word, source = chosen(name, network.design.limits)
        rows.append({"limit": name, "value": word, "unit": "", "source": str(source)})
    return [row | {"applies_to": "whole harness"} for row in rows]


def recut_facts(physics: Physics) -> list[Facts]:
    """Every remedy of every wire that is too short; cutting it anew is the one with a length."""
    rows: list[Facts] = []
    for mark, length in physics.lengths.items():
        if length.margin_mm is None or length.margin_mm >= 0:
            continue
        found = remedies(physics.network, physics.lengths, physics.network.wire_of[mark])
        anew = next(each for each in found if each.kind.value == "cut the wire longer")
        for each in found:
            others = [
                f"{one.mark} needs {abs(one.change_mm):.1f} mm {'more' if one.change_mm > 0 else 'less'}"
                + ("" if one.margin_mm is None else f", {one.margin_mm:.1f} mm to spare")
                for one in each.effects
                if one.mark != mark
            ]
            rows.append(
                {
                    "mark": mark, "short_mm": -length.margin_mm, "has_mm": length.cut_mm,
                    "recut_mm": length.cut_mm + anew.gain_mm if each is anew else None, "remedy": each.kind.value,
                    "how": each.words.partition(" (wins ")[0], "wins_mm": each.gain_mm, "others": "; ".join(others),
                }
            )  # fmt: skip
    return rows
