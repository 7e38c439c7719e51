"""The documents of a checked design, all made before any is written; names to bytes, no disk."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial

from harnessgen.bench.procedure import procedure_of
from harnessgen.cutting.plan import cut_plan
from harnessgen.documents import findings_json, findings_text
from harnessgen.documents.page import page_title
from harnessgen.documents.paper import PaperUnavailable, design_hash, sheets_pdf, tables_pdf
from harnessgen.documents.paper_procedure import procedure_pdf
from harnessgen.documents.procedure_html import procedure_page
from harnessgen.documents.solution_json import solution_json
from harnessgen.documents.spice import netlist
from harnessgen.documents.table_csv import table_csv
from harnessgen.documents.table_html import tables_page
from harnessgen.network.network import Network
from harnessgen.physics.physics import Physics
from harnessgen.run import Checked
from harnessgen.schedules.collection import schedules_of
from harnessgen.schedules.cutting_plan import buying_table, cutting_table, proof_table
from harnessgen.schedules.findings_table import accepted_table, standing_table
from harnessgen.schedules.limits_table import limit_rows, limits_table
from harnessgen.schedules.status import NOT_FOR_BUILD, Status, status_of
from harnessgen.sheets.preview import PreviewUnavailable, png_bytes
from harnessgen.sheets.sheet import Sheet, sheet_svg
from harnessgen.source.kind import names_in


@dataclass(frozen=True, slots=True)
class Built:
    """Files of a build by name, and what the builder should know of how they came about."""

    files: dict[str, bytes]
    remarks: tuple[str, ...]


def build_files(checked: Checked) -> Built:
    """Every document of a checked design; none where the faults of its file leave nothing to work from."""
    if checked.network is None or checked.physics is None:
        return Built({}, ())
    return _Builder(checked, checked.network, checked.physics).build()


class _Builder:
    def __init__(self, checked: Checked, network: Network, physics: Physics) -> None:
        self.checked = checked
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
        self._procedure()
        self._states()
        self._drawings()
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
        self._add("cut-list.html", tables_page(title, self.status, (*schedules.for_page(on_bench=False), *others)))
        bench = (*schedules.for_page(on_bench=True), *others)
        self._print("cut-list.pdf", partial(tables_pdf, title, self.status, bench, self.hash))

    def _cutting(self) -> None:
        """Which cut comes from which spool, where the design says what is on the shelf."""
        if not self.network.design.stock:
            return
        plan = cut_plan(self.network, self.physics)
        cuts = cutting_table(plan)
        tables = [table for table in (cuts, buying_table(plan), proof_table(plan)) if table.rows]
        self._add("cutting-plan.csv", table_csv([cuts], self.status))
        self._add("cutting-plan.html", tables_page(page_title(self.network, "Cutting plan"), self.status, tables))

    def _print(self, name: str, made: Callable[[], bytes]) -> None:
        if not self.has_paper:
            return
        try:
            self.files[name] = made()
        except PaperUnavailable as error:
            self.has_paper = False
            self.remarks.append(f"The PDF documents are missing: {error}")

    def _procedure(self) -> None:
        procedure = procedure_of(self.network, self.physics)
        title = page_title(self.network, "Test procedure")
        self._add("test-procedure.html", procedure_page(self.network, title, self.status, procedure))
        make = partial(procedure_pdf, self.network, title, self.status, procedure, self.hash)
        self._print("test-procedure.pdf", make)

    def _states(self) -> None:
        for state, point in self.physics.points.items():
            self._add(f"states/{state}/solution.json", solution_json(self.network, point))
            self._add(f"states/{state}/network.cir", netlist(self.network, point))

    def _drawings(self) -> None:
        from harnessgen.drawings.circuit_drawing import circuit_sheets
        from harnessgen.drawings.circuit_order import PlacementUnavailable
        from harnessgen.drawings.layout_drawing import layout_sheets
        from harnessgen.drawings.protection_drawing import protection_sheets, unjudged_fuses

        drawings: dict[str, tuple[Sheet, ...]] = {}
        try:
            drawings["circuit"] = circuit_sheets(self.network)
        except PlacementUnavailable as error:
            self.remarks.append(f"The circuit drawing is missing: {error}")
        drawings["layout"] = layout_sheets(self.network)
        if charts := protection_sheets(self.physics):
            drawings["protection"] = charts
        if unjudged := unjudged_fuses(self.physics):
            self.remarks.append(f"No curve against their wires for {names_in(unjudged)}: no opening times, or not fed.")
        for stem, plain in drawings.items():
            sheets = tuple(map(self._stamped, plain))
            self._print(f"{stem}.pdf", partial(sheets_pdf, sheets, self.hash))
            for name, sheet in _numbered(stem, sheets).items():
                svg = sheet_svg(sheet)
                self._add(f"{name}.svg", svg)
                self._preview(name, svg)

    def _preview(self, name: str, svg: str) -> None:
        if not self.has_previews:
            return
        try:
            self.files[f"previews/{name}.png"] = png_bytes(svg)
        except PreviewUnavailable as error:
            self.has_previews = False
            self.remarks.append(f"The PNG previews are missing: {error}")

    def _stamped(self, sheet: Sheet) -> Sheet:
        if self.status.is_for_build:
            return sheet
        return replace(sheet, block=replace(sheet.block, status=NOT_FOR_BUILD, status_detail=self.status.words))


def _numbered(stem: str, sheets: tuple[Sheet, ...]) -> dict[str, Sheet]:
    if len(sheets) == 1:
        return {stem: sheets[0]}
    return {f"{stem}-{number}": sheet for number, sheet in enumerate(sheets, 1)}
