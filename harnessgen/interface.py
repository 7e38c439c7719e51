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
from harnessgen.disk import text_of
from harnessgen.disk.build_folder import BuildFolder
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


def build(
    path: str | Path, folder: str | Path, paper: str = "a4", *, previews: bool = False, force: bool = False
) -> list[Path]:
    """Check the design in a file and write its documents into `folder`; the files written, none if it has faults.

    `paper` is what lists and drawings are laid out for: `a4`, `letter` or `a3`. `previews` asks for the drawings as PNG
    too. The folder is the build's own, and is replaced whole; with `force` it may hold other things, which stay, and
    the documents are replaced one by one. What could not be made is named in its `manifest.json`.

    Raises:
        UnreadableFile: the file cannot be had as text.
        RuleCrash: a check failed by itself, which is a fault of the program.
        DocumentCrash: a document failed by itself, which is a fault of the program; the others are written.
        FolderRefused: the folder holds what no build wrote, another build writes there, or it cannot be written.
        KeyError: there is no such paper.
    """
    from harnessgen.builder import DocumentCrash, Wishes, build_files

    with BuildFolder(Path(folder), force=force) as held:
        built = build_files(check(path), Wishes(paper, previews=previews))
        if built.files:
            held.write(built.files, built.reasons)
    if built.crashes:
        raise DocumentCrash("; ".join(f"{each.name}: {each.reason}" for each in built.crashes)) from built.crashes[
            0
        ].crash
    return [Path(folder) / name for name in built.files]
