"""Findings for programs: the form is frozen, and each key is always there."""

import json

from harnessgen.documents.data.findings_json import render
from harnessgen.evidence.finding import Finding, NotExamined, Number, Severity, at_most
from harnessgen.source.place import NOWHERE, Place

_NUMBERS = (Number("carries", 9.6, "A", "six injectors", 1), Number("allowed", 7.125, "A", "heat balance", 1))
_FULL = Finding(
    "wire-overload",
    Severity.ERROR,
    "21A",
    Place("designs/six.yaml", 120, 128, 41, 52, 41, 60, "bank left, load INJ3"),
    "Wire 21A is too thin.",
    _NUMBERS,
    "0.75 mm2",
    ((Place("designs/six.yaml", 9, 17, 2, 11, 2, 19), "zone plenum is 120 degC"),),
    ("21A", "21B"),
    "bench only",
    accepted_as="in state boost, up to 9.6 A",
    state="boost",
    wire="21A",
    deciding=at_most(*_NUMBERS),
    caused_by="hot-zone:plenum",
)
_BARE = Finding("untested-fault", Severity.NOTE, "", NOWHERE, "No step shows it.")


def test_the_whole_text_is_as_it_was_frozen() -> None:
    """Keys, their order and their values are exactly these, and the text ends in a newline."""
    assert (
        render([_FULL, _BARE], [NotExamined("excess-drop", "no route")])
        == """\
{
  "format": 1,
  "findings": [
    {
      "rule": "untested-fault",
      "severity": "note",
      "subject": "",
      "file": null,
      "line": null,
      "column": null,
      "end_line": null,
      "end_column": null,
      "message": "No step shows it.",
      "numbers": [],
      "mend": "",
      "see": [],
      "subjects": [],
      "accepted": null,
      "acceptance": "",
      "id": "untested-fault",
      "state": "",
      "wire": "",
      "deciding": null,
      "caused-by": ""
    },
    {
      "rule": "wire-overload",
      "severity": "error",
      "subject": "21A",
      "file": "designs/six.yaml",
      "line": 41,
      "column": 52,
      "end_line": 41,
      "end_column": 60,
      "message": "Wire 21A is too thin.",
      "numbers": [
        {
          "name": "carries",
          "value": 9.6,
          "unit": "A",
          "source": "six injectors"
        },
        {
          "name": "allowed",
          "value": 7.125,
          "unit": "A",
          "source": "heat balance"
        }
      ],
      "mend": "0.75 mm2",
      "see": [
        {
          "file": "designs/six.yaml",
          "line": 2,
          "column": 11,
          "end_line": 2,
          "end_column": 19,
          "message": "zone plenum is 120 degC"
        }
      ],
      "subjects": [
        "21A",
        "21B"
      ],
      "accepted": "bench only",
      "acceptance": "in state boost, up to 9.6 A",
      "id": "wire-overload:21A:boost",
      "state": "boost",
      "wire": "21A",
      "deciding": {
        "number": {
          "name": "carries",
          "value": 9.6,
          "unit": "A",
          "source": "six injectors"
        },
        "limit": {
          "name": "allowed",
          "value": 7.125,
          "unit": "A",
          "source": "heat balance"
        },
        "direction": "at most"
      },
      "caused-by": "hot-zone:plenum"
    }
  ],
  "not_examined": [
    {
      "rule": "excess-drop",
      "reason": "no route",
      "subject": ""
    }
  ],
  "summary": {
    "errors": 0,
    "warnings": 0,
    "notes": 1,
    "accepted": 1
  },
  "released": {
    "cutting": false,
    "power": false,
    "running": false
  }
}
"""
    )


def test_nothing_found_has_the_same_keys() -> None:
    """A clean design gives empty lists and zero counts under the same keys."""
    assert json.loads(render([])) == {
        "format": 1,
        "findings": [],
        "not_examined": [],
        "summary": {"errors": 0, "warnings": 0, "notes": 0, "accepted": 0},
        "released": {"cutting": True, "power": True, "running": True},
    }


def test_a_number_that_json_cannot_write_is_null() -> None:
    """Infinite values are null, so that any JSON reader takes the text."""
    numbers = (Number("opens after", float("inf"), "s"), Number("ratio", float("nan"), "1"))
    finding = Finding("a", Severity.NOTE, "", NOWHERE, "Here.", numbers)
    text = render([finding])
    assert "Infinity" not in text
    assert [each["value"] for each in json.loads(text)["findings"][0]["numbers"]] == [None, None]


def test_any_text_is_written_in_plain_ascii() -> None:
    """Letters of any script, and characters that steer a terminal, are escaped and read back the same."""
    words = "µΩ 漢 \x1b \u202e \ud83d"
    text = render([Finding("a", Severity.NOTE, words, NOWHERE, words)])
    assert text.isascii()
    assert json.loads(text)["findings"][0]["message"] == words


def test_the_order_of_what_is_handed_over_does_not_matter() -> None:
    """The same findings give the same text in whatever order the rules found them."""
    assert render([_FULL, _BARE]) == render([_BARE, _FULL])
