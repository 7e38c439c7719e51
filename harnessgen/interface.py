"""The Python interface: read, check and build a design by its path.

import harnessgen
checked = harnessgen.check("designs/flat-six.yaml")
for finding in checked.examination.findings:
    print(finding.rule, finding.place, finding.message)
print(checked.physics.points["boost"].amperes["21A"])
print(checked.network.graph.edges(data="record"))  # the electrical graph, a networkx multigraph
"""

from pathlib import Path

from harnessgen import run
from harnessgen.design.understand import Understood
from harnessgen.disk import text_of, write_all
from harnessgen.run import Checked


def read(path: str | Path) -> Understood:
    """The design in a file, with the faults of the file.

    Raises:
        UnreadableFile: the file cannot be had as text.
    """
    return run.read(Path(path).as_posix(), text_of)


def check(path: str | Path, *, quick: bool = False) -> Checked:
    """The design in a file with its network, its physics, its proved test procedures and all findings.

    `quick` leaves the fault simulation out: the rules on it are then not examined.

    Raises:
        UnreadableFile: the file cannot be had as text.
        RuleCrash: a check failed by itself, which is a fault of the program.
    """
    return run.check(Path(path).as_posix(), text_of, quick=quick)


def build(path: str | Path, folder: str | Path, paper: str = "a4") -> list[Path]:
    """Check the design in a file and write its documents into `folder`; the files written, none if it has faults.

    `paper` is what lists and drawings are laid out for: `a4`, `letter` or `a3`.

    Raises:
        UnreadableFile: the file cannot be had as text.
        RuleCrash: a check failed by itself, which is a fault of the program.
        OSError: the folder cannot be written.
    """
    from harnessgen.build import Wishes, build_files

    built = build_files(check(path), Wishes(paper))
    if built.files:
        write_all(Path(folder), built.files)
    return [Path(folder) / name for name in built.files]
