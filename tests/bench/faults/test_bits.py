"""Bits of many numbers at once, against one number after the other."""

from hypothesis import given
from hypothesis import strategies as st

from harnessgen.bench.faults.bits import bits_of, places_of, taken

NUMBERS = st.lists(st.one_of(st.just(0), st.integers(0, 300), st.integers(0, 1 << 700)), max_size=12)


@given(NUMBERS)
def test_every_bit_has_its_place(numbers: list[int]) -> None:
    """The digits of the number in base two, read from the right."""
    rows, bits = places_of(numbers)
    digits = [
        (row, at) for row, each in enumerate(numbers) for at, digit in enumerate(f"{each:b}"[::-1]) if digit == "1"
    ]
    assert list(zip(rows.tolist(), bits.tolist(), strict=True)) == digits
    assert [(row, bit) for row, each in enumerate(numbers) for bit in bits_of(each)] == digits


@given(NUMBERS, st.lists(st.integers(0, 800), unique=True, max_size=30))
def test_bits_are_taken_in_the_order_asked_for(numbers: list[int], wanted: list[int]) -> None:
    """Digit by digit."""
    assert taken(numbers, wanted) == [
        sum((each >> bit & 1) << place for place, bit in enumerate(wanted)) for each in numbers
    ]
