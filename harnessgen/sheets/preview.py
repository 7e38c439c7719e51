"""SVG text to PNG bytes for previews; the system's cairo library may be missing, and then only previews are missing."""


class PreviewUnavailable(RuntimeError):
    """Previews cannot be made on this computer, since the cairo library of the system is not there."""


def png_bytes(svg: str, dots_per_mm: float = 6.0) -> bytes:
    """The PNG image of `svg` at `dots_per_mm` (6 is about 150 dots an inch).

    Raises:
        PreviewUnavailable: the cairo library of the system or its Python binding is missing.
    """
    try:
        # Imported here: it is slow to load and needs a system library that only previews need.
        import cairosvg
    except (ImportError, OSError) as missing:
        raise PreviewUnavailable("no preview pictures: the cairo library is not installed") from missing
    # The reader counts 96 dots to an inch of 25.4 mm.
    image = cairosvg.svg2png(bytestring=svg.encode(), dpi=96, scale=dots_per_mm * 25.4 / 96)
    return bytes(image)
