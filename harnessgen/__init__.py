"""From one declarative file to a wiring harness that is checked, drawn, cut and proved.

The interface of three functions is `read`, `check` and `build`, each taking the path of a design file. `build` raises
`FolderRefused` rather than touch what no build wrote.
"""

from typing import TYPE_CHECKING, Any

from harnessgen.version import __version__

if TYPE_CHECKING:
    from harnessgen.disk.work import FolderRefused as FolderRefused
    from harnessgen.interface import build as build
    from harnessgen.interface import check as check
    from harnessgen.interface import read as read

__all__ = ["FolderRefused", "__version__", "build", "check", "read"]


def __getattr__(name: str) -> Any:
    # The stages are loaded when they are asked for: `harnessgen schema` needs no solver.
    if name in ("build", "check", "read"):
        from harnessgen import interface

        return getattr(interface, name)
    if name == "FolderRefused":
        from harnessgen.disk.work import FolderRefused

        return FolderRefused
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
