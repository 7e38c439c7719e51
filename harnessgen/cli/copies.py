"""Writing a changed copy of a design, with the files that it includes beside it."""

import os
import sys
from collections.abc import Mapping
from pathlib import Path

from harnessgen.disk import write_texts


def written(main: str, texts: Mapping[str, str], copy: Path) -> bool:
    """Whether the copy and the files that it includes could be written; says so, or what keeps them from it."""
    source = Path(main)
    paths = {
        copy if name == main else copy.parent / os.path.relpath(name, source.parent): text
        for name, text in texts.items()
    }
    taken = [path for path in paths if any(path.resolve() == Path(name).resolve() for name in texts)]
    if taken:
        listed = ", ".join(map(str, taken))
        print(f"{listed} would be overwritten: name a copy in another place.", file=sys.stderr)
        return False
    try:
        write_texts(paths)
    except OSError as error:
        print(f"{copy} cannot be written: {(error.strerror or str(error)).lower()}.", file=sys.stderr)
        return False
    print(f"Wrote {', '.join(map(str, paths))}.", file=sys.stderr)
    return True
