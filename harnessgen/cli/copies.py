"""Writing a changed copy of a design, with the files that it includes beside it."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path

from harnessgen.disk import CopyRefused, write_copy


def written(main: str, texts: Mapping[str, str], copy: Path, *, force: bool) -> bool:
    """Whether the copy and the files that it includes could be written; says so, or what keeps them from it.

    An included file goes where the copy looks for it; one that has the same text there already is not written.
    """
    source = Path(main)
    paths = {
        copy if name == main else Path(os.path.normpath(copy.parent / os.path.relpath(name, source.parent))): text
        for name, text in texts.items()
    }
    try:
        made = write_copy(copy.parent, paths, force=force)
    except CopyRefused as error:
        remedy = "name a copy in another place (--force writes all the same)"
        print(f"{error}: {remedy}. Nothing was written.", file=sys.stderr)
        return False
    except (OSError, ValueError) as error:
        why = (getattr(error, "strerror", None) or str(error)).lower()
        print(f"{copy} cannot be written: {why}. Nothing was written.", file=sys.stderr)
        return False
    if made:
        print(f"Wrote {', '.join(map(str, made))}.", file=sys.stderr)
    else:
        print(f"{copy} holds that already.", file=sys.stderr)
    return True
