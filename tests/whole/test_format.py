"""What is made from the declarations of the keys is fresh, and agrees with the designs that we ship."""

import re
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from harnessgen.cli.main import main
from harnessgen.design.reading.read import read_files
from harnessgen.design.records.design import Design
from harnessgen.design.understand import understand
from harnessgen.documents.data.schema import json_schema
from harnessgen.documents.pages.small_design import SMALL_DESIGN
from harnessgen.run import examine_text
from harnessgen.source.container import records_under
from harnessgen.source.reader import Mapping, Node, Scalar, read_tree

DESIGNS = Path(__file__).parents[2] / "designs"
SHIPPED = sorted(DESIGNS.rglob("*.yaml"))


def as_an_editor_reads(node: Node) -> Any:
    """The value that a reader of YAML 1.2's core schema makes of a node, as editors do before they check it."""
    if isinstance(node, Mapping):
        return {key: as_an_editor_reads(entry.value) for key, entry in node.entries.items()}
    if not isinstance(node, Scalar):
        return [as_an_editor_reads(item) for item in node.items]
    if node.quoted:
        return node.text
    if node.text in ("", "~", "null"):
        return None
    if node.text in ("true", "false"):
        return node.text == "true"
    if re.fullmatch(r"[-+]?[0-9]+", node.text):
        return int(node.text)
    if re.fullmatch(r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?", node.text):
        return float(node.text)
    return node.text


def test_the_reference_page_is_fresh(capsys: pytest.CaptureFixture[str]) -> None:
    """designs/FORMAT.md is what `harnessgen schema --page` prints."""
    assert main(["schema", "--page"]) == 0
    assert (DESIGNS / "FORMAT.md").read_text(encoding="utf-8") == capsys.readouterr().out


@pytest.mark.parametrize("path", [path for path in SHIPPED if path.parent == DESIGNS], ids=lambda path: path.stem)
def test_every_design_keeps_to_the_schema(path: Path) -> None:
    """An editor that checks by the JSON Schema has nothing to say about a design that the reader takes."""
    tree = read_tree(path.name, path.read_text(encoding="utf-8"))
    assert tree.root is not None
    jsonschema.Draft202012Validator(json_schema(Design)).validate(as_an_editor_reads(tree.root))


@pytest.mark.parametrize(
    "record", [each for each in records_under(Design) if each.example], ids=lambda each: each.__name__
)
def test_the_examples_of_the_reference_page_can_be_read(record: Any) -> None:
    """Each example has known keys and right units; only what it leaves out (names that stand elsewhere) is missing."""
    text = record.example if record.example.startswith("format:") else f"format: 2\n{record.example}"
    understood = understand(read_files("example.yaml", lambda name: text))
    told = {fault.rule for fault in understood.faults}
    assert told <= {"missing-key", "unknown-reference"}, [fault.message for fault in understood.faults]
    jsonschema.Draft202012Validator(json_schema(Design)).validate(as_an_editor_reads(read_tree("x", text).root))


def test_the_whole_file_of_the_reference_page_is_sound() -> None:
    """It stands on the page as it is, keeps to the schema, and a check has nothing to say on it."""
    assert SMALL_DESIGN in (DESIGNS / "FORMAT.md").read_text(encoding="utf-8")
    assert 25 <= SMALL_DESIGN.count("\n") <= 40
    checked = examine_text(SMALL_DESIGN, quick=False)
    assert checked.examination.findings == ()
    assert checked.examination.not_examined == ()
    tree = read_tree("small", SMALL_DESIGN)
    assert tree.root is not None
    jsonschema.Draft202012Validator(json_schema(Design)).validate(as_an_editor_reads(tree.root))


def test_the_contacts_on_a_relay_s_tabs_are_told() -> None:
    """The table of relays says which contact each tab takes; factors are shown as factors."""
    page = (DESIGNS / "FORMAT.md").read_text(encoding="utf-8")
    assert "tabs 30: tab-9.5, 87: tab-9.5, 85: tab-6.3, 86: tab-6.3" in page
    assert "| `path-factor` | factor (`1.2`) |" in page
