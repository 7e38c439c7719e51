"""The documents of a checked design, all made before any is written; names to bytes, no disk."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from harnessgen.bench.fitted import Fitted
from harnessgen.bench.need import Need
from harnessgen.bench.output import outputs_of
from harnessgen.bench.output_pulses import CAUTIONS, PulsePlan, pulse_plans, speeds_of
from harnessgen.bench.proof import Proofs
from harnessgen.bench.step import Phase
from harnessgen.cutting.plan import cut_plan
from harnessgen.documents import findings_json, findings_text
from harnessgen.documents.page import LOCAL_CODES, page_title
from harnessgen.documents.paper import PaperUnavailable, design_hash, sheets_pdf, tables_pdf
from harnessgen.documents.paper_procedure import procedure_pdf
from harnessgen.documents.procedure_html import procedure_page
from harnessgen.documents.solution_json import solution_json
from harnessgen.documents.spice import netlist
from harnessgen.documents.table_csv import table_csv
from harnessgen.documents.table_html import tables_page
from harnessgen.network.network import Network
from harnessgen.physics.conditions import Case
from harnessgen.physics.physics import Physics
from harnessgen.run import Checked
from harnessgen.schedules.collection import schedules_of
from harnessgen.schedules.coverage_table import alike_table, coverage_table, untested_table
from harnessgen.schedules.cutting_plan import buying_table, cutting_table, proof_table
from harnessgen.schedules.findings_table import accepted_table, standing_table
from harnessgen.schedules.limits_table import limit_rows, limits_table
from harnessgen.schedules.missed_table import every_missed_table
from harnessgen.schedules.output_test import output_test_on_sheet, output_test_table
from harnessgen.schedules.status import Status, status_of
from harnessgen.schedules.table import Table
from harnessgen.schedules.volts import fuel_table, volts_table
from harnessgen.sheets.preview import PreviewUnavailable, png_bytes
from harnessgen.sheets.sheet import STATIONERY, Sheet, sheet_svg
from harnessgen.source.kind import names_in

_SHEETS = {
    Need.BENCH: "bench",
    Need.POWERED: "powered",
    Need.VEHICLE: "vehicle",
    Need.SERVICE: "after-service",
    Need.LAMP_BENCH: "lamp-bench",
    Need.LAMP_VEHICLE: "lamp-vehicle",
}
"""File of the test sheet for each need."""


@dataclass(frozen=True, slots=True)
class Built:
    """Files of a build by name, and what the builder should know of how they came about."""

    files: dict[str, bytes]
    remarks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the person who builds asks for.

    `paper` names the stationery that pages are laid out for: `a4`, `letter` or `a3`. For each state of `annotate` the
    circuit is drawn once more with its currents and volts.
    """

    paper: str = "a4"
    annotate: tuple[str, ...] = ()


def build_files(checked: Checked, wishes: Wishes = Wishes()) -> Built:
    """Every document of a proved design; none where the faults of its file leave nothing to work from.

    Raises:
        KeyError: there is no such paper, or a state to annotate is none of the design's.
    """
    if checked.network is None or checked.physics is None or checked.proofs is None:
        return Built({}, ())
    return _DocumentBuilder(checked, checked.network, checked.physics, checked.proofs, wishes).build()


class _DocumentBuilder:
    def __init__(self, checked: Checked, network: Network, physics: Physics, proofs: Proofs, wishes: Wishes) -> None:
        self.proofs = proofs
        self.checked = checked
        self.paper = STATIONERY[wishes.paper]
        self.annotate = tuple(dict.fromkeys(wishes.annotate))
        self.network = network
        self.physics = physics
        examination = checked.examination
        self.status: Status = status_of(examination.findings, examination.not_examined)
        self.files: dict[str, bytes] = {}
        self.remarks: list[str] = []
        self.hash = design_hash(checked.understood.texts.values())
        self.has_paper = True
        self.has_previews = True

    def build(self) -> Built:
        self._findings()
        self._schedules()
        self._cutting()
        self._procedures()
        self._states()
        self._volts()
        self._drawings()
        self._formboard()
        return Built(self.files, tuple(self.remarks))

    def _add(self, name: str, text: str) -> None:
        self.files[name] = text.encode("utf-8")

    def _findings(self) -> None:
        examination = self.checked.examination
        texts = self.checked.understood.texts
        self._add("findings.txt", findings_text.render(examination.findings, texts, examination.not_examined))
        self._add("findings.json", findings_json.render(examination.findings, examination.not_examined))

    def _schedules(self) -> None:
        schedules = schedules_of(self.network, self.physics)
        for stem, tables in schedules.by_kind.items():
            self._add(f"{stem}.csv", table_csv(tables, self.status))
        findings = (standing_table(self.status), accepted_table(self.status), limits_table(limit_rows(self.network)))
        others = tuple(table for table in findings if table.rows)
        title = page_title(self.network, "Cut list and schedules")
        shown, lists = (*schedules.for_page(on_bench=False), *others), self.paper.lists
        self._add("cut-list.html", tables_page(title, self.status, shown, paper=lists))
        bench = (*schedules.for_page(on_bench=True), *others)
        self._print("cut-list.pdf", partial(tables_pdf, title, self.status, bench, self.hash, lists))

    def _cutting(self) -> None:
        """Which cut comes from which spool, where the design says what is on the shelf."""
        if not self.network.design.stock:
            return
        plan = cut_plan(self.network, self.physics)
        cuts = cutting_table(plan)
        tables = [table for table in (cuts, buying_table(plan), proof_table(plan)) if table.rows]
        self._add("cutting-plan.csv", table_csv([cuts], self.status))
        title = page_title(self.network, "Cutting plan")
        self._add("cutting-plan.html", tables_page(title, self.status, tables, paper=self.paper.lists))

    def _print(self, name: str, made: Callable[[], bytes]) -> None:
        if not self.has_paper:
            return
        try:
            self.files[name] = made()
        except PaperUnavailable as error:
            self.has_paper = False
            self.remarks.append(f"The PDF documents are missing: {error}")

    def _procedures(self) -> None:
        """A test sheet for each section and need, and what all of them find."""
        sections = {section.letter: section for section in self.network.sections.sections}
        plans = self._pulse_plans()
        entered = [output_test_on_sheet(plans)]
        for proof in self.proofs.proofs:
            section = sections.get(proof.section)
            name = f"test/{_SHEETS[proof.need]}"
            if section is not None and len(sections) > 1:
                name += f"-{proof.section}"
            title = page_title(self.network, f"Test procedure: {proof.need.value}", section)
            paper, procedure = self.paper.procedure, proof.procedure
            phases = {block.setup.phase for block in procedure.blocks}
            tables = entered if phases & {Phase.OUTPUTS, Phase.LAMP_WORKED} else []
            self._add(f"{name}.html", procedure_page(self.network, title, self.status, procedure, paper, tables))
            make = partial(procedure_pdf, self.network, title, self.status, procedure, self.hash, paper, tables)
            self._print(f"{name}.pdf", make)
        found: list[Table[Any]] = [
            coverage_table(self.proofs), untested_table(self.proofs), alike_table(self.proofs),
        ]  # fmt: skip
        shown = [table for table in found if table.rows]
        self._add("test/coverage.csv", table_csv(shown[:1], self.status))
        self._add("test/missed.csv", table_csv([every_missed_table(self.proofs)], self.status))
        self._add("test/coverage.html", tables_page(page_title(self.network, "Fault coverage"), self.status, shown))

    def _pulse_plans(self) -> tuple[PulsePlan, ...]:
        """What is entered in the controller's output test, written as a schedule of its own too."""
        fitted = Fitted(self.network, self.physics)
        outputs = outputs_of(fitted) if self.network.design.supplies else ()
        plans = pulse_plans(outputs, speeds_of(outputs))
        if plans:
            table = output_test_table(plans)
            title, paper = page_title(self.network, "Controller's output test"), self.paper.lists
            self._add("test/output-test.csv", table_csv([table], self.status))
            said = (*(f"{each.name}: {each.text}" for each in CAUTIONS), LOCAL_CODES)
            self._add("test/output-test.html", tables_page(title, self.status, [table], said, paper))
            make = partial(tables_pdf, title, self.status, [table], self.hash, paper, said)
            self._print("test/output-test.pdf", make)
        return plans

    def _states(self) -> None:
        for state, point in self.physics.points.items():
            heat = self.physics.heat.in_state(state) if state in self.physics.heat.durations_s else ()
            drops = self.physics.drops_in(state, Case.STATED)
            self._add(f"states/{state}/solution.json", solution_json(self.network, point, drops, heat))
            self._add(f"states/{state}/network.cir", netlist(self.network, point))

    def _volts(self) -> None:
        """The volts at every load, what they do to fuel, and the limits that applied."""
        tables = (volts_table(self.network, self.physics), fuel_table(self.physics))
        for table in tables:
            if table.rows:
                self._add(f"{table.key}.csv", table_csv([table], self.status))
        shown: list[Table[Any]] = [table for table in tables if table.rows or table.notes]
        title = page_title(self.network, "Volts at the loads")
        shown.append(limits_table(limit_rows(self.network)))
        self._add("volts.html", tables_page(title, self.status, shown, paper=self.paper.lists))
        self._print("volts.pdf", partial(tables_pdf, title, self.status, shown, self.hash, self.paper.lists))

    def _drawings(self) -> None:
        from harnessgen.drawings.circuit_drawing import circuit_sheets
        from harnessgen.drawings.circuit_order import PlacementUnavailable
        from harnessgen.drawings.circuit_readings import readings_of
        from harnessgen.drawings.layout_drawing import layout_sheets
        from harnessgen.drawings.protection_drawing import protection_sheets, unjudged_fuses

        drawings: dict[str, tuple[Sheet, ...]] = {}
        readings = {state: readings_of(self.network, self.physics.points[state]) for state in self.annotate}
        try:
            drawings["circuit"] = circuit_sheets(self.network, stationery=self.paper)
            for state, found in readings.items():
                drawings[f"circuit-in-{state}"] = circuit_sheets(self.network, readings=found, stationery=self.paper)
        except PlacementUnavailable as error:
            self.remarks.append(f"The circuit drawing is missing: {error}")
        drawings["layout"] = layout_sheets(self.network, papers=self.paper.drawings)
        if charts := protection_sheets(self.physics, self.paper.drawings[0]):
            drawings["protection"] = charts
        if unjudged := unjudged_fuses(self.physics):
            self.remarks.append(f"No curve against their wires for {names_in(unjudged)}: no opening times, or not fed.")
        for stem, plain in drawings.items():
            large = dict.fromkeys(sheet.paper.name for sheet in plain if sheet.paper in self.paper.oversize)
            if large:
                self.remarks.append(
                    f"The {stem} drawing needs {', '.join(large)}: have that printed, or print it to fit."
                )
            sheets = tuple(map(self._stamped, plain))
            self._print(f"{stem}.pdf", partial(sheets_pdf, sheets, self.hash))
            for name, sheet in _numbered(stem, sheets).items():
                svg = sheet_svg(sheet)
                self._add(f"{name}.svg", svg)
                self._preview(name, svg)

    def _formboard(self) -> None:
        """The route at 1:1, where there is one to lay on a board."""
        if not any(section.legs for section in self.network.sections.sections):
            return
        from harnessgen.documents.formboard_dxf import formboard_dxf
        from harnessgen.documents.formboard_pdf import formboard_pdf

        papers = (self.paper.lists, self.paper.procedure)
        self._print("formboard.pdf", partial(formboard_pdf, self.network, self.status, self.hash, papers))
        self._add("formboard.dxf", formboard_dxf(self.network, papers, self.status))

    def _preview(self, name: str, svg: str) -> None:
        if not self.has_previews:
            return
        try:
            self.files[f"previews/{name}.png"] = png_bytes(svg)
        except PreviewUnavailable as error:
            self.has_previews = False
            self.remarks.append(f"The PNG previews are missing: {error}")

    def _stamped(self, sheet: Sheet) -> Sheet:
        block = replace(sheet.block, design=self.hash)
        block = replace(block, release=self.status.release_words)
        if self.status.banner:
            block = replace(block, status=self.status.banner, status_detail=self.status.words)
        return replace(sheet, block=block)


def _numbered(stem: str, sheets: tuple[Sheet, ...]) -> dict[str, Sheet]:
    if len(sheets) == 1:
        return {stem: sheets[0]}
    return {f"{stem}-{number}": sheet for number, sheet in enumerate(sheets, 1)}
