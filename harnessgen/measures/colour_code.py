"""Insulation colours by the letter codes of IEC 60757; base and stripe as `BU/WH` (blue with a white stripe)."""

from difflib import get_close_matches

from harnessgen.measures.frozen import frozen

# IEC 60757 table 1; GNYE is one colour there, not a base with a stripe.
COLOURS = {
    "BK": "black", "BN": "brown", "RD": "red", "OG": "orange", "YE": "yellow", "GN": "green", "BU": "blue",
    "VT": "violet", "GY": "grey", "WH": "white", "PK": "pink", "GD": "gold", "TQ": "turquoise", "SR": "silver",
    "GNYE": "green-and-yellow",
}  # fmt: skip


_MOST_CHARACTERS = 30


class ColourError(ValueError):
    """A text that is no colour code: `problem` says why, `remedy` what to write instead."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(f"{problem}; {remedy}")
        self.problem = problem
        self.remedy = remedy


@frozen
class ColourCode:
    """Colour of a wire's insulation: `base`, and `stripe` where there is one (else empty)."""

    base: str
    stripe: str = ""

    def __str__(self) -> str:
        """As printed: `RD`, `BU/WH`."""
        return f"{self.base}/{self.stripe}" if self.stripe else self.base

    @property
    def words(self) -> str:
        """In words: `blue with white stripe`."""
        base = COLOURS[self.base]
        return f"{base} with {COLOURS[self.stripe]} stripe" if self.stripe else base


def parse_colour(text: str) -> ColourCode:
    """Read a colour code.

    Raises:
        ColourError: a part is no IEC 60757 code, or there are more than two parts.
    """
    if len(text) > _MOST_CHARACTERS:
        raise ColourError(f"{text[:_MOST_CHARACTERS]!r} and what follows is no colour code", "write RD or BU/WH")
    parts = [part.strip() for part in text.split("/")]
    if len(parts) > 2:
        raise ColourError(f"{text!r} has more than base and stripe", "write the base and one stripe: BU/WH")
    for part in parts:
        if part not in COLOURS:
            raise ColourError(f"{part!r} is no IEC 60757 colour code", _remedy(part))
    return ColourCode(*parts)


def _remedy(part: str) -> str:
    if part[:2] in COLOURS and part[2:] in COLOURS:
        # The joined form of IEC 60757 for an item of two colours.
        return f"write base and stripe with a slash: {part[:2]}/{part[2:]}"
    letters = "".join(each for each in part.upper() if each.isalpha())
    if letters == "YEGN":
        return "did you mean GNYE (green-and-yellow)? it is one colour, green first"
    if part.upper() != letters and letters[:2] in COLOURS and letters[2:] in COLOURS:
        return f"write base and stripe with a slash: {letters[:2]}/{letters[2:]}"
    by_word = {word: code for code, word in COLOURS.items()}
    near = [part.upper()] if part.upper() in COLOURS else []
    near += [by_word[word] for word in get_close_matches(part.lower(), by_word, n=1)]
    near += [code for code in COLOURS if part and code.startswith(part.upper())] if len(part) == 1 else []
    near += get_close_matches(part.upper(), COLOURS, n=1, cutoff=0.5)
    hint = f"did you mean {near[0]} ({COLOURS[near[0]]})? " if near else ""
    return hint + "codes: " + " ".join(COLOURS)
