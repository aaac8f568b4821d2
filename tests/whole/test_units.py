"""Lengths are read exactly, and rounded once by one rule."""

from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.reference import reference

from guidekit.units import Length, Slant, angle, decimal, half_up

fractions = st.fractions(-9_999_999, 9_999_999, max_denominator=5_000)
decimals = st.decimals(-9_999_999, 9_999_999, places=4, allow_nan=False)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("3 mm", Fraction(3), "mm"),
        ("6.625 in", Fraction(53, 8), "in"),
        ("0.1mm", Fraction(1, 10), "mm"),
        ("1/8 in", Fraction(1, 8), "in"),
        ("7/96 in", Fraction(7, 96), "in"),
        ("-2.50 cm", Fraction(-5, 2), "cm"),
        ("+6 pt", Fraction(6), "pt"),
        ("  800   px ", Fraction(800), "px"),
        (".25in", Fraction(1, 4), "in"),
        ('1/4"', Fraction(1, 4), "in"),
        ("6.625″", Fraction(53, 8), "in"),
        ("6 inches", Fraction(6), "in"),
        ("3 MM", Fraction(3), "mm"),
        ("999999999.999999999 px", Fraction(10**18 - 1, 10**9), "px"),
    ],
)
def test_reads_exactly(text: str, value: Fraction, unit: str) -> None:
    """Decimals and fractions are read as they stand, with their unit, and never through a float."""
    assert Length.parse(text) == Length(value, unit)


@given(decimals, st.sampled_from(["mm", "cm", "in", "pt", "px"]))
def test_reads_what_it_writes(number: Decimal, unit: str) -> None:
    """A length of up to four decimals is written so that it reads as the same length."""
    length = Length.parse(f"{number:f} {unit}")
    assert length.value == Fraction(number)
    assert Length.parse(str(length)) == length


FORM = 'Write a number and a unit, as in "3 mm" or "1/8 in".'
OTHERS = "or another unit: cm, in, pt or px."


@pytest.mark.parametrize(
    ("given", "said"),
    [
        (3, f'3 has no unit. Write "3 mm", {OTHERS}'),
        (0.5, f'0.5 has no unit. Write "0.5 mm", {OTHERS}'),
        ("3", f'"3" is not a length. Write "3 mm", {OTHERS}'),
        ("3 ell", '"3 ell" has an unknown unit. Write mm, cm, in, pt or px.'),
        ("1/0 in", f'"1/0 in" has 0 below its line. {FORM}'),
        ("3,5 mm", '"3,5 mm" is not a length. Write "3.5 mm", with a point.'),
        ("0,25", '"0,25" is not a length. Write "0.25 mm", with a point.'),
        ("1 1/8 in", '"1 1/8 in" is not a length. Write "1.125 in".'),
        ("6-5/8in", '"6-5/8in" is not a length. Write "6.625 in".'),
        *(
            (form, f"{told} is not a length. {FORM}")
            for form, told in (
                ("", '""'), ("mm", '"mm"'), ("mm 3", '"mm 3"'), ("5. mm", '"5. mm"'),
                ("1e3 mm", '"1e3 mm"'), ("1/2/3 in", '"1/2/3 in"'), ("1.5/2 in", '"1.5/2 in"'),
                ("--3 mm", '"--3 mm"'), ("3 mm 4 mm", '"3 mm 4 mm"'), ("0x10 mm", '"0x10 mm"'),
                ("1234567890 mm", '"1234567890 mm"'), ("1 1/0 in", '"1 1/0 in"'),
                ("0.1234567890 mm", '"0.1234567890 mm"'), (True, "true"), ([], "[]"),
                (float("nan"), "nan"), (float("inf"), "inf"),
            )
        ),
    ],
)  # fmt: skip
def test_refuses(given: object, said: str) -> None:
    """What is no length is refused with a sentence that shows the right form."""
    with pytest.raises(ValueError) as caught:  # noqa: PT011 - the whole text is compared
        Length.parse(given)
    assert str(caught.value) == said


@pytest.mark.parametrize(
    ("text", "dpi", "px"),
    [
        # 1 in = 25.4 mm exactly: International yard and pound agreement, 1959
        ("3 mm", 300, Fraction(4500, 127)),
        ("1 cm", 254, Fraction(100)),
        ("25.4 mm", 72, Fraction(72)),
        ("1/8 in", 300, Fraction(75, 2)),
        ("5.06 in", 300, Fraction(1518)),  # 5.06 * 300 is 1517.9999999999998 in floats
        # 1 pt = 1/72 in: CSS Values and Units 3, absolute lengths
        ("6 pt", 600, Fraction(50)),
        ("800 px", 1, Fraction(800)),
    ],
)
def test_pixels(text: str, dpi: int, px: Fraction) -> None:
    """Every unit becomes an exact number of pixels; pixels stay what they are at any dpi."""
    length = Length.parse(text)
    assert length.px(dpi) == px
    assert length.mm(dpi) == px / dpi * Fraction("25.4")


def test_units_again() -> None:
    """All units are as long as reportlab has them, in points of 1/72 in."""
    to_points = reference("reportlab.lib.units").toLength
    for written in ("3 mm", "6.625 in", "18.5 cm", "7 pt"):
        assert float(Length.parse(written).px(72)) == pytest.approx(to_points(written), rel=1e-12)


@given(decimals)
def test_half_up_is_floor_of_a_half_more(number: Decimal) -> None:
    """Rounding is floor(x + 1/2), as Python's decimal arithmetic computes it."""
    expected = (number + Decimal("0.5")).to_integral_value(ROUND_FLOOR)
    assert half_up(Fraction(number)) == expected


@given(st.integers(-(10**9), 10**9))
def test_half_up_at_ties(whole: int) -> None:
    """An exact half always goes up, for even and odd neighbours and on both sides of zero."""
    assert half_up(whole + Fraction(1, 2)) == whole + 1


@given(fractions, fractions, st.integers(-(10**6), 10**6))
def test_half_up_laws(x: Fraction, y: Fraction, whole: int) -> None:
    """Rounding moves by less than a pixel, keeps the order, and moves with whole pixels."""
    assert -Fraction(1, 2) < half_up(x) - x <= Fraction(1, 2)
    assert half_up(x + whole) == half_up(x) + whole
    assert (half_up(x) <= half_up(y)) or x > y


def test_half_even_is_another_rule() -> None:
    """A US comic page with bleed, 2062.5 px wide at 300 dpi, gets 2063; `round` would give 2062."""
    width = Length.parse("6.875 in").px(300)
    assert (half_up(width), round(width)) == (2063, 2062)


@given(fractions, st.integers(0, 6))
def test_decimal_for_people(x: Fraction, places: int) -> None:
    """A fraction is shown with so many decimals, rounded as Python's decimals, without zeros."""
    text = decimal(x, places)
    step = Decimal(1).scaleb(-places)
    exact = Decimal(x.numerator) / Decimal(x.denominator)  # 28 digits, no tie comes from rounding
    assert Decimal(text) == exact.quantize(step, ROUND_HALF_UP)
    assert "." not in text or not text.endswith(("0", "."))


@pytest.mark.parametrize(
    ("x", "text"),
    [
        (Fraction(4500, 127), "35.4331"),
        (Fraction(53, 8), "6.625"),
        (Fraction(300), "300"),
        (Fraction(-1, 10**6), "0"),
        (Fraction(-3, 2), "-1.5"),
        (Fraction(1, 20_000), "0.0001"),
    ],
)
def test_decimal_examples(x: Fraction, text: str) -> None:
    """Nothing is shown that a person would not write: no trailing zeros, no minus before 0."""
    assert decimal(x) == text


@pytest.mark.parametrize("text", ["8 deg", "8deg", "8°", " 8.0 ° "])
def test_angles(text: str) -> None:
    """Degrees are read as people write them."""
    assert angle(text) == 8
    assert Slant.parse(text) == Slant(degrees=Fraction(8))
