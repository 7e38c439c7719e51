"""The documents of a checked design, all made before any is written; names to bytes, no disk.

Each is a record of its name and of what makes it; a group lists its documents. All are made under one guard.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any, Generic, TypeVar

from harnessgen.bench.need import Need
from harnessgen.bench.proof import Proofs
from harnessgen.bench.setup.installed import Fitted
from harnessgen.bench.setup.step import Phase, Procedure
from harnessgen.bench.steps.output import outputs_of
from harnessgen.bench.steps.output_pulses import CAUTIONS, PulsePlan, pulse_plans, speeds_of
from harnessgen.cutting.plan import cut_plan
from harnessgen.documents.data import findings_json
from harnessgen.documents.data.csv_tables import table_csv
from harnessgen.documents.data.solution_json import solution_json
from harnessgen.documents.data.spice import netlist
from harnessgen.documents.pages.page import LOCAL_CODES, PageTitle, page_title
from harnessgen.documents.pages.procedure import procedure_page
from harnessgen.documents.pages.tables import tables_page
from harnessgen.documents.paper.paper import design_hash, sheets_pdf, tables_pdf
from harnessgen.documents.paper.procedure import procedure_pdf
from harnessgen.documents.text import findings as findings_text
from harnessgen.network.network import Network
from harnessgen.outside.helper import end_helper
from harnessgen.outside.program import OutsideProgramFailed
from harnessgen.physics.electrical.conditions import Case
from harnessgen.physics.electrical.operating_point import OperatingPoint
from harnessgen.physics.physics import Physics
from harnessgen.run import Checked
from harnessgen.schedules.collection import schedules_of
from harnessgen.schedules.results.coverage import alike_table, coverage_table, untested_table
from harnessgen.schedules.results.findings import accepted_table, standing_table
from harnessgen.schedules.results.limits import limit_rows, limits_table
from harnessgen.schedules.results.output_test import output_test_on_sheet, output_test_table
from harnessgen.schedules.results.status import Status, status_of
from harnessgen.schedules.results.undetected import every_missed_table
from harnessgen.schedules.results.volts import fuel_table, volts_table
from harnessgen.schedules.tables.table import Table
from harnessgen.schedules.wires.cutting_plan import buying_table, cutting_table, proof_table
from harnessgen.sheets.preview import png_bytes
from harnessgen.sheets.sheet import STATIONERY, Sheet, sheet_svg
from harnessgen.source.kind import names_in

_T = TypeVar("_T")

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
class Missing:
    """A document, or a group of them, that could not be made.

    `crash` is the exception where that is a fault of this program; None where another program is missing or failed.
    """

    name: str
    reason: str
    crash: Exception | None = None


class DocumentCrash(RuntimeError):
    """Documents that failed by themselves are missing from a build, each with the reason."""


@dataclass(frozen=True, slots=True)
class Built:
    """Files of a build by name, what the builder should know of how they came about, and what is missing of them."""

    files: dict[str, bytes]
    remarks: tuple[str, ...]
    missing: tuple[Missing, ...] = ()

    @property
    def crashes(self) -> tuple[Missing, ...]:
        """What is missing by a fault of this program."""
        return tuple(each for each in self.missing if each.crash is not None)

    @property
    def reasons(self) -> dict[str, str]:
        """What is missing, by name, each with the reason in words."""
        return {each.name: each.reason for each in self.missing}


@dataclass(frozen=True, slots=True)
class _Document:
    """A document by the name of its file and what makes it, or a group by its name and what lists its documents."""

    name: str
    make: "Callable[[], bytes | str | Iterable[_Document]]"


class _Once(Generic[_T]):
    """What several documents share: made when the first of them asks; its failure is the failure of each."""

    def __init__(self, make: Callable[[], _T]) -> None:
        self._make = make
        self._made: list[_T] = []
        self._error: Exception | None = None

    def __call__(self) -> _T:
        if self._error is not None:
            raise self._error
        if not self._made:
            try:
                self._made.append(self._make())
            except Exception as error:
                self._error = error
                raise
        return self._made[0]


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the person who builds asks for.

    `paper` names the stationery that pages are laid out for: `a4`, `letter` or `a3`. For each state of `annotate` the
    circuit is drawn once more with its currents and volts. `previews` asks for the drawings as PNG too.
    """

    paper: str = "a4"
    annotate: tuple[str, ...] = ()
    previews: bool = False


def build_files(checked: Checked, wishes: Wishes = Wishes()) -> Built:
    """Every document of a proved design, or why it is missing; none where its file leaves nothing to work from.

    A document that cannot be made costs only itself.

    Raises:
        KeyError: there is no such paper, or a state to annotate is none of the design's.
    """
    if checked.network is None or checked.physics is None or checked.proofs is None:
        return Built({}, ())
    try:
        return _DocumentBuilder(checked, checked.network, checked.physics, checked.proofs, wishes).build()
    finally:
        end_helper()


def _preview(svg: "_Once[str]") -> bytes:
    return png_bytes(svg())


class _DocumentBuilder:
    def __init__(self, checked: Checked, network: Network, physics: Physics, proofs: Proofs, wishes: Wishes) -> None:
        self.proofs = proofs
        self.checked = checked
        self.paper = STATIONERY[wishes.paper]
        self.annotate = {state: physics.points[state] for state in dict.fromkeys(wishes.annotate)}
        self.has_previews = wishes.previews
        self.network = network
        self.physics = physics
        examination = checked.examination
        self.status: Status = status_of(examination.findings, examination.not_examined)
        self.files: dict[str, bytes] = {}
        self.missing: list[Missing] = []
        self.remarks: list[str] = []
        self.hash = design_hash(checked.understood.texts.values())
        self.plans = _Once(self._pulse_plans)

    def build(self) -> Built:
        for document in (
            *self._findings(),
            _Document("schedules", self._schedules),
            _Document("cutting plan", self._cutting),
            _Document("output test", self._output_test),
            _Document("test procedures", self._procedures),
            _Document("states", self._states),
            _Document("volts at the loads", self._volts),
            _Document("drawings", self._drawings),
            _Document("formboard", self._formboard),
        ):
            self._run(document)
        return Built(self.files, (*_remarks_on(self.missing, self.files), *self.remarks), tuple(self.missing))

    def _run(self, document: _Document) -> None:
        """Make a document, or each one of a group; the one guard that keeps the failure of one from the others."""
        try:
            made = document.make()
            if isinstance(made, bytes | str):
                self.files[document.name] = made if isinstance(made, bytes) else made.encode("utf-8")
                return
            # A group lists its documents while they are made: what it lists before it fails is made.
            for each in made:
                self._run(each)
        except OutsideProgramFailed as error:
            # That costs the documents that need the other program, and is no fault of ours.
            self.missing.append(Missing(document.name, str(error)))
        except Exception as error:
            # Whatever it is, the other documents are of use without this one.
            reason = f"the program failed here ({type(error).__name__}: {error})"
            self.missing.append(Missing(document.name, reason, error))

    def _csv(self, name: str, tables: Sequence[Table[Any]]) -> _Document:
        return _Document(name, lambda: table_csv(tables, self.status))

    def _page(self, name: str, title: PageTitle, tables: Callable[[], Sequence[Table[Any]]]) -> _Document:
        make = partial(tables_page, title, self.status)
        return _Document(name, lambda: make(tables(), paper=self.paper.lists))

    def _findings(self) -> Iterator[_Document]:
        examination, texts = self.checked.examination, self.checked.understood.texts
        found, skipped = examination.findings, examination.not_examined
        yield _Document("findings.txt", lambda: findings_text.render(found, texts, skipped))
        yield _Document("findings.json", lambda: findings_json.render(found, skipped))

    def _schedules(self) -> Iterator[_Document]:
        schedules = schedules_of(self.network, self.physics)
        for stem, tables in schedules.by_kind.items():
            yield self._csv(f"{stem}.csv", tables)
        title = page_title(self.network, "Cut list and schedules")

        def others() -> tuple[Table[Any], ...]:
            tables = (standing_table(self.status), accepted_table(self.status), limits_table(limit_rows(self.network)))
            return tuple(table for table in tables if table.rows)

        def printed() -> bytes:
            bench = (*schedules.for_page(on_bench=True), *others())
            return tables_pdf(title, self.status, bench, self.hash, self.paper.lists)

        yield self._page("cut-list.html", title, lambda: (*schedules.for_page(on_bench=False), *others()))
        yield _Document("cut-list.pdf", printed)

    def _cutting(self) -> Iterator[_Document]:
        """Which cut comes from which spool, where the design says what is on the shelf."""
        if not self.network.design.stock:
            return
        plan = cut_plan(self.network, self.physics)

        def tables() -> list[Table[Any]]:
            every = (cutting_table(plan), buying_table(plan), proof_table(plan))
            return [table for table in every if table.rows]

        yield _Document("cutting-plan.csv", lambda: table_csv([cutting_table(plan)], self.status))
        yield self._page("cutting-plan.html", page_title(self.network, "Cutting plan"), tables)

    def _procedures(self) -> Iterator[_Document]:
        """A test sheet for each section and need, and what all of them find."""
        sections = {section.letter: section for section in self.network.sections.sections}
        for proof in self.proofs.proofs:
            section = sections.get(proof.section)
            name = f"test/{_SHEETS[proof.need]}"
            if section is not None and len(sections) > 1:
                name += f"-{proof.section}"
            title = page_title(self.network, f"Test procedure: {proof.need.value}", section)
            yield _Document(f"{name}.html", partial(self._procedure_page, title, proof.procedure))
            yield _Document(f"{name}.pdf", partial(self._procedure_pdf, title, proof.procedure))

        def tables() -> list[Table[Any]]:
            every = (coverage_table(self.proofs), untested_table(self.proofs), alike_table(self.proofs))
            return [table for table in every if table.rows]

        yield _Document("test/coverage.csv", lambda: table_csv(tables()[:1], self.status))
        yield _Document("test/missed.csv", lambda: table_csv([every_missed_table(self.proofs)], self.status))
        title = page_title(self.network, "Fault coverage")
        yield _Document("test/coverage.html", lambda: tables_page(title, self.status, tables()))

    def _procedure_page(self, title: PageTitle, procedure: Procedure) -> str:
        tables = self._entered(procedure)
        return procedure_page(self.network, title, self.status, procedure, self.paper.procedure, tables)

    def _procedure_pdf(self, title: PageTitle, procedure: Procedure) -> bytes:
        tables = self._entered(procedure)
        return procedure_pdf(self.network, title, self.status, procedure, self.hash, self.paper.procedure, tables)

    def _entered(self, procedure: Procedure) -> list[Table[Any]]:
        """What is entered in the controller, where the procedure works its outputs."""
        phases = {block.setup.phase for block in procedure.blocks}
        return [output_test_on_sheet(self.plans())] if phases & {Phase.OUTPUTS, Phase.LAMP_WORKED} else []

    def _pulse_plans(self) -> tuple[PulsePlan, ...]:
        fitted = Fitted(self.network, self.physics)
        outputs = outputs_of(fitted) if self.network.design.supplies else ()
        return pulse_plans(outputs, speeds_of(outputs))

    def _output_test(self) -> Iterator[_Document]:
        """What is entered in the controller's output test, as a schedule of its own too."""
        plans = self.plans()
        if not plans:
            return
        table = output_test_table(plans)
        title, paper = page_title(self.network, "Controller's output test"), self.paper.lists
        said = (*(f"{each.name}: {each.text}" for each in CAUTIONS), LOCAL_CODES)
        yield self._csv("test/output-test.csv", [table])
        yield _Document("test/output-test.html", partial(tables_page, title, self.status, [table], said, paper))
        yield _Document(
            "test/output-test.pdf", partial(tables_pdf, title, self.status, [table], self.hash, paper, said)
        )

    def _states(self) -> Iterator[_Document]:
        for state in self.physics.points:
            yield _Document(f"states/{state}/solution.json", partial(self._solution, state))
            yield _Document(f"states/{state}/network.cir", partial(netlist, self.network, self.physics.points[state]))

    def _solution(self, state: str) -> str:
        physics = self.physics
        heat = physics.heat.in_state(state) if state in physics.heat.durations_s else ()
        return solution_json(self.network, physics.points[state], physics.drops_in(state, Case.STATED), heat)

    def _volts(self) -> Iterator[_Document]:
        """The volts at every load, what they do to fuel, and the limits that applied."""
        tables = (volts_table(self.network, self.physics), fuel_table(self.physics))
        for table in tables:
            if table.rows:
                yield self._csv(f"{table.key}.csv", [table])
        title = page_title(self.network, "Volts at the loads")

        def shown() -> list[Table[Any]]:
            return [*(table for table in tables if table.rows or table.notes), limits_table(limit_rows(self.network))]

        yield self._page("volts.html", title, shown)
        yield _Document("volts.pdf", lambda: tables_pdf(title, self.status, shown(), self.hash, self.paper.lists))

    def _drawings(self) -> Iterator[_Document]:
        from harnessgen.drawings.charts.fuse_chart_sheets import protection_sheets, unjudged_fuses
        from harnessgen.drawings.circuit.drawing import circuit_sheets
        from harnessgen.drawings.circuit.elements.readings import readings_of
        from harnessgen.drawings.layout.drawing import layout_sheets

        def in_state(point: OperatingPoint) -> tuple[Sheet, ...]:
            return circuit_sheets(self.network, readings=readings_of(self.network, point), stationery=self.paper)

        yield self._drawing("circuit", lambda: circuit_sheets(self.network, stationery=self.paper))
        for state, point in self.annotate.items():
            yield self._drawing(f"circuit-in-{state}", partial(in_state, point))
        yield self._drawing("layout", lambda: layout_sheets(self.network, papers=self.paper.drawings))
        yield self._drawing("protection", lambda: protection_sheets(self.physics, self.paper.drawings[0]))
        if unjudged := unjudged_fuses(self.physics):
            self.remarks.append(f"No curve against their wires for {names_in(unjudged)}: no opening times, or not fed.")

    def _drawing(self, stem: str, draw: Callable[[], tuple[Sheet, ...]]) -> _Document:
        """A drawing on paper and as pictures; a drawing without sheets has neither."""
        return _Document(f"{stem} drawing", lambda: self._drawn(stem, tuple(map(self._stamped, draw()))))

    def _drawn(self, stem: str, sheets: tuple[Sheet, ...]) -> Iterator[_Document]:
        if not sheets:
            return
        large = dict.fromkeys(sheet.paper.name for sheet in sheets if sheet.paper in self.paper.oversize)
        if large:
            self.remarks.append(f"The {stem} drawing needs {', '.join(large)}: have that printed, or print it to fit.")
        yield _Document(f"{stem}.pdf", partial(sheets_pdf, sheets, self.hash))
        for name, sheet in _numbered(stem, sheets).items():
            svg = _Once(partial(sheet_svg, sheet))
            yield _Document(f"{name}.svg", svg)
            if self.has_previews:
                yield _Document(f"previews/{name}.png", partial(_preview, svg))

    def _formboard(self) -> Iterator[_Document]:
        """The route at 1:1, where there is one to lay on a board."""
        if not any(section.legs for section in self.network.sections.sections):
            return
        from harnessgen.documents.cad.formboard_dxf import formboard_dxf
        from harnessgen.documents.paper.formboard import formboard_pdf

        papers = (self.paper.lists, self.paper.procedure)
        yield _Document("formboard.pdf", lambda: formboard_pdf(self.network, self.status, self.hash, papers))
        yield _Document("formboard.dxf", lambda: formboard_dxf(self.network, papers, self.status))

    def _stamped(self, sheet: Sheet) -> Sheet:
        block = replace(sheet.block, design=self.hash)
        block = replace(block, release=self.status.release_words)
        if self.status.banner:
            block = replace(block, status=self.status.banner, status_detail=self.status.words)
        return replace(sheet, block=block)


def _remarks_on(missing: Sequence[Missing], files: Mapping[str, bytes]) -> list[str]:
    """What other programs cost, one line for each reason."""
    by_reason: dict[str, list[str]] = {}
    for each in missing:
        if each.crash is None:
            by_reason.setdefault(each.reason, []).append(each.name)
    remarks = []
    for reason, names in by_reason.items():
        endings = {name.rpartition(".")[2] for name in names}
        words = f"The {names[0]} is missing" if len(names) == 1 else f"{', '.join(names)} are missing"
        for ending, kind in (("pdf", "PDF documents"), ("png", "PNG previews")):
            if endings == {ending} and not any(name.endswith(f".{ending}") for name in files):
                words = f"The {kind} are missing"
        remarks.append(f"{words}: {reason}")
    return remarks


def _numbered(stem: str, sheets: tuple[Sheet, ...]) -> dict[str, Sheet]:
    if len(sheets) == 1:
        return {stem: sheets[0]}
    return {f"{stem}-{number}": sheet for number, sheet in enumerate(sheets, 1)}
