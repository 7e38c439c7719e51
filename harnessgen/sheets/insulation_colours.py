"""Drawing colours of insulation: IEC 60757 letter code to a colour that survives screen and printer.

IEC 60757 gives the letters and their meaning, not the shades. The shades here are ours: apart in lightness as far as
their names allow, so that a grey print keeps neighbours apart, and light ones are seen by the dark edge that every
conductor is drawn with. The code printed on each conductor, never the shade alone, carries the meaning.
"""

Rgb = tuple[int, int, int]
"""Red, green, blue, each 0 to 255."""

BLACK: Rgb = (0, 0, 0)
WHITE: Rgb = (255, 255, 255)

EDGE: Rgb = (26, 26, 26)
"""The dark edge of every conductor."""

UNKNOWN: Rgb = (222, 222, 222)
"""Drawn where a code is not one of IEC 60757; the printed code still says what the design wrote."""

INSULATION_COLOURS: dict[str, Rgb] = {
    "BK": (26, 26, 26),
    "BN": (121, 74, 42),
    "RD": (201, 35, 40),
    "OG": (240, 126, 20),
    "YE": (247, 205, 20),
    "GN": (38, 138, 62),
    "BU": (36, 96, 190),
    "VT": (126, 62, 166),
    "GY": (140, 140, 140),
    "WH": (255, 255, 255),
    "PK": (246, 160, 184),
    "GD": (190, 152, 60),
    "TQ": (36, 178, 178),
    "SR": (196, 200, 206),
}
"""The single codes of IEC 60757 table 1, in its order; GNYE is drawn as GN with a stripe of YE."""


def insulation_colour(code: str) -> Rgb:
    """Drawing colour of one IEC 60757 `code`; any other code gives `UNKNOWN`, so that a faulty design still draws."""
    return INSULATION_COLOURS.get(code, UNKNOWN)


def base_and_stripe(colour: str) -> tuple[str, str]:
    """Base code and stripe code of a notation such as `BU/WH`, `RD` or `GNYE`; the stripe may be empty."""
    base, _, stripe = colour.partition("/")
    if not stripe and len(base) == 4:
        return base[:2], base[2:]
    return base, stripe


def luminance(colour: Rgb) -> float:
    """Relative luminance of `colour`, 0 (black) to 1 (white), by the sRGB formula of WCAG 2.1."""

    def linear(part: int) -> float:
        share = part / 255
        return share / 12.92 if share <= 0.04045 else float(((share + 0.055) / 1.055) ** 2.4)

    red, green, blue = (linear(part) for part in colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(first: Rgb, second: Rgb) -> float:
    """Contrast ratio of two colours, 1 (none) to 21 (black on white), by the formula of WCAG 2.1."""
    lighter, darker = sorted((luminance(first), luminance(second)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)
