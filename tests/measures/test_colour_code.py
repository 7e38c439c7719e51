"""Colours: the letter codes of IEC 60757, base and stripe."""

import pytest

from harnessgen.measures.colour_code import COLOURS, ColourCode, ColourError, parse_colour

# IEC 60757 table 1, in the order of the standard. Its words for BU, VT and GY add light blue, purple and slate.
_TABLE_1 = [
    ("BK", "black"), ("BN", "brown"), ("RD", "red"), ("OG", "orange"), ("YE", "yellow"), ("GN", "green"),
    ("BU", "blue"), ("VT", "violet"), ("GY", "grey"), ("WH", "white"), ("PK", "pink"), ("GD", "gold"),
    ("TQ", "turquoise"), ("SR", "silver"), ("GNYE", "green-and-yellow"),
]  # fmt: skip
_CODES = "codes: BK BN RD OG YE GN BU VT GY WH PK GD TQ SR GNYE"


def test_the_codes_are_those_of_the_standard() -> None:
    """All codes of IEC 60757 table 1 are known, in its order, and no other."""
    assert list(COLOURS.items()) == _TABLE_1


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        ("RD", ColourCode("RD"), "red"),
        ("BU/WH", ColourCode("BU", "WH"), "blue with white stripe"),
        ("WH/BU", ColourCode("WH", "BU"), "white with blue stripe"),
        ("BU / WH", ColourCode("BU", "WH"), "blue with white stripe"),
        ("GNYE", ColourCode("GNYE"), "green-and-yellow"),
        ("GN/YE", ColourCode("GN", "YE"), "green with yellow stripe"),
    ],
)
def test_base_and_stripe_are_told_apart(text: str, code: ColourCode, words: str) -> None:
    """Base stands before stripe, and green-and-yellow is one colour, not green with a stripe."""
    assert parse_colour(text) == code
    assert code.words == words
    assert parse_colour(str(code)) == code


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("rd", f"'rd' is no IEC 60757 colour code; did you mean RD (red)? {_CODES}"),
        ("grey", f"'grey' is no IEC 60757 colour code; did you mean GY (grey)? {_CODES}"),
        ("RD/blu", f"'blu' is no IEC 60757 colour code; did you mean BU (blue)? {_CODES}"),
        ("XX", f"'XX' is no IEC 60757 colour code; {_CODES}"),
        ("RD/", f"'' is no IEC 60757 colour code; {_CODES}"),
        ("RD/BU/GN", "'RD/BU/GN' has more than base and stripe; write the base and one stripe: BU/WH"),
        # IEC 60757 joins the codes of an item of two colours: RDBU.
        ("RDBU", "'RDBU' is no IEC 60757 colour code; write base and stripe with a slash: RD/BU"),
    ],
)
def test_a_wrong_code_is_told_in_one_sentence(text: str, sentence: str) -> None:
    """The refusal names the part that is no code, and the code that was most likely meant."""
    with pytest.raises(ColourError) as caught:
        parse_colour(text)
    assert str(caught.value) == sentence
