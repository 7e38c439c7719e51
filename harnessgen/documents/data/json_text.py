"""JSON as every data file is written: nine digits of each number, the same on every machine."""

import json
from collections.abc import Mapping
from typing import Any

from harnessgen.measures.quantised import quantised_tree


def json_text(whole: Mapping[str, Any], indent: int = 2, *, is_ascii: bool = False) -> str:
    """The text of a data file, its last line ended.

    Raises:
        ValueError: a number is infinite or none.
    """
    return json.dumps(quantised_tree(dict(whole)), indent=indent, ensure_ascii=is_ascii, allow_nan=False) + "\n"
