"""SVG text to PNG bytes for previews; the system's cairo library may be missing, and then only previews are missing."""

from harnessgen.outside.helper import helped
from harnessgen.outside.program import OutsideProgram, OutsideProgramFailed

PICTURE_MAKER = OutsideProgram(
    "the cairo library", "install it with the packages of your system, as with: apt install libcairo2", limit_s=60.0
)
"""What makes every preview; that of a large sheet takes it a few seconds."""


class PreviewUnavailable(OutsideProgramFailed):
    """Previews cannot be made, since the cairo library of the system or its Python binding is not there, or fails."""


def png_bytes(svg: str, dots_per_mm: float = 6.0) -> bytes:
    """The PNG image of `svg` at `dots_per_mm` (6 is about 150 dots an inch).

    Raises:
        PreviewUnavailable: the cairo library or its Python binding is missing, fails or does not end.
    """
    # The reader counts 96 dots to an inch of 25.4 mm.
    request = {"svg": svg, "dpi": 96, "scale": dots_per_mm * 25.4 / 96}
    try:
        return helped(PICTURE_MAKER, "picture", b"\x89PNG", request)
    except OutsideProgramFailed as failed:
        raise PreviewUnavailable(f"no preview pictures: {failed}") from failed
