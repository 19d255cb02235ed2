"""What may be typed, what it means, and what is refused with words that help."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.quantities import (
    QuantityError,
    parse_angle,
    parse_force,
    parse_length,
    parse_mass,
    parse_number,
    parse_stiffness,
    parse_stress,
    parse_torque_nm,
    unit_factor,
)
from core.quantities.tokens import LONGEST_TEXT
from core.quantities.units import LENGTH

Parse = Callable[[str], float]

# Worked by hand from 1 in = 25.4 mm exactly.
LENGTHS = [
    ("12.5", 12.5),
    (" 12.5 ", 12.5),
    (".5", 0.5),
    ("12,5", 12.5),
    ("0,125", 0.125),
    ("1234,567", 1234.567),
    ("1.234", 1.234),
    ("1.5e3", 1500.0),
    ("25.4*3", 76.2),
    ("25.4 \u00d7 3", 76.2),
    ("1 1/2 in", 38.1),
    ('1-1/2"', 38.1),
    ("1-1/2 in", 38.1),
    ("1\u00bd in", 38.1),
    ('1-\u00bd"', 38.1),
    ("3/4 in", 19.05),
    ("\u00be in", 19.05),
    ("1\u20442 in", 12.7),
    ("5'6 1/2\"", 1689.1),
    ("5' 6 1/2\"", 1689.1),
    ("5 ft 6 1/2 in", 1689.1),
    ("5\u2032 6\u2033", 1676.4),
    ("-5'6\"", -1676.4),
    ("5 ft - 6 in", 1371.6),
    ("10 cm", 100.0),
    ("1.2 m", 1200.0),
    ("2 ft", 609.6),
    ("0.095in", 2.413),
    ("40 thou", 1.016),
    ("(3+4)*2 mm", 14.0),
    ("(3+4) mm", 7.0),
    ("(1 in + 2 in) * 2", 152.4),
    ("100/4 mm", 25.0),
    ("12 mm * 1/3", 4.0),
    ("30 mm / 4", 7.5),
    ("1 m - 1 mm", 999.0),
    ("2 * -3", -6.0),
    ("2 - -3", 5.0),
    ("-3", -3.0),
    ("\u22123.5 mm", -3.5),
    ("10 - 1/2", 9.5),
    ("1 1/2", 1.5),
    ("100 mm * (30 mm / 20 mm)", 150.0),
    ("100 mm * 30 mm / 20 mm", 150.0),
    ("6 in / (3/4 in) * 1 mm", 8.0),
    ("30 mm2 / 3 mm", 10.0),
    ("30 mm^2 / 3 mm", 10.0),
]


@pytest.mark.parametrize(("text", "expected"), LENGTHS)
def test_a_typed_length_is_read_in_mm(text: str, expected: float) -> None:
    assert parse_length(text) == expected


OTHERS: list[tuple[Parse, str, float]] = [
    (parse_angle, "2.5", 2.5),
    (parse_angle, "2.5 deg", 2.5),
    (parse_angle, "2.5\u00b0", 2.5),
    (parse_angle, "3\u00b0 30'", 3.5),
    (parse_angle, "3 deg 30' 36\"", 3.51),
    (parse_angle, "-30'", -0.5),
    (parse_angle, "6 arcmin", 0.1),
    (parse_mass, "80", 80.0),
    (parse_mass, "250 g", 0.25),
    (parse_mass, "100 lb", 45.359237),
    (parse_force, "500", 500.0),
    (parse_force, "1.5 kN", 1500.0),
    (parse_torque_nm, "20", 20.0),
    (parse_torque_nm, "20 N m", 20.0),
    (parse_torque_nm, "20 Nm", 20.0),
    (parse_torque_nm, "20 N\u00b7m", 20.0),
    (parse_torque_nm, "20000 N mm", 20.0),
    (parse_torque_nm, "500 N * 120 mm", 60.0),
    (parse_stiffness, "35", 35.0),
    (parse_stiffness, "35 N/mm", 35.0),
    (parse_stiffness, "35 kN/m", 35.0),
    (parse_stiffness, "700 N / 20 mm", 35.0),
    (parse_stress, "350", 350.0),
    (parse_stress, "350 N/mm\u00b2", 350.0),
    (parse_stress, "350 N/mm2", 350.0),
    (parse_stress, "210 GPa", 210_000.0),
    (parse_number, "1/4", 0.25),
    (parse_number, "12 in / 3 mm", 101.6),
]


@pytest.mark.parametrize(("parse", "text", "expected"), OTHERS)
def test_other_measures_are_read_in_the_unit_of_their_parser(
    parse: Parse, text: str, expected: float
) -> None:
    assert parse(text) == expected


def test_the_unit_given_counts_only_where_none_is_written() -> None:
    assert parse_length("2", unit="in") == 50.8
    assert parse_length("2*3", unit="in") == 152.4
    assert parse_length("2 mm", unit="in") == 2.0
    assert parse_torque_nm("20", unit="N mm") == 0.02


# Text, where the fault is noticed, a part of what is said.
REFUSED = [
    ("", 0, "Nothing is typed"),
    ("   ", 0, "Nothing is typed"),
    ("100 mm + 2", 9, "'2' has no unit"),
    ("2 + 100 mm", 0, "'2' has no unit"),
    ("100 mm - (1 + 1)", 9, "'(1 + 1)' has no unit"),
    ("3 mm * 4 mm", 0, "an area"),
    ("4 / 2.5 mm", 0, "a number divided by a length"),
    ("12 in / 3 in", 0, "a pure number"),
    ("5 N", 0, "a force"),
    ("3 kg + 2 mm", 7, "A mass and a length cannot be added"),
    ("1,200", 0, "can be read as 1200 or as 1.200"),
    ("1,234.5", 0, "dots and commas"),
    ("1,234,567", 0, "dots and commas"),
    ("1.2.3", 0, "dots and commas"),
    ("5 + 3,", 4, "dots and commas"),
    ("1 200", 2, "no sign before '200'"),
    ("2(3)", 1, "no sign before '('"),
    ("5 mm 3", 5, "no sign before '3'"),
    ("10-1/2", 0, "as a difference"),
    ("10-1/2 mm", 0, "as a difference"),
    ("1 3/2 in", 2, "less than one"),
    ("1 2/2 in", 2, "less than one"),
    ("5'-6\"", 2, "'and' or as 'minus'"),
    ("5' - 6\"", 3, "'and' or as 'minus'"),
    ("5 ft-6 1/2 in", 4, "'and' or as 'minus'"),
    ("5'6", 2, "only in may follow"),
    ("5'12\"", 2, "less than 12"),
    ("12 in / 3/4 in", 8, "Two divisions"),
    ("3/0", 2, "divides by zero"),
    ("3/(2-2)", 2, "divides by zero"),
    ("3 mm / 0 in * 1 mm", 7, "divides by zero"),
    ("nan", 0, "'nan' is not a number"),
    ("inf mm", 0, "'inf' is not a number"),
    ("5 * Infinity", 4, "'Infinity' is not a number"),
    ("\u221e", 0, "no meaning here"),
    ("1e400", 0, "too large or too small"),
    ("1e-400", 0, "too large or too small"),
    ("*".join(["9e99"] * 4), 0, "too large"),
    ("*".join(["1e-99"] * 4), 0, "too small"),
    ("5 MM", 2, "Did you mean mm?"),
    ("5 furlong", 2, "no unit known here"),
    ("5 x 3", 2, "Write '*' for times"),
    ("mm", 0, "number is missing before 'mm'"),
    ("3 +", 3, "stops short"),
    ("3 + * 4", 4, "number is missing before '*'"),
    ("((2)", 0, "not closed"),
    ("2)", 1, "never opened"),
    ("(2 mm 3)", 6, "no sign before '3'"),
    ("=3", 0, "'='"),
    ("3 ^ 2", 2, "Powers are not read"),
    ("10\u201312", 2, "minus sign"),
    ("5\x00", 1, "U+0000"),
    ("\u0661\u0662", 0, "no meaning here"),
    ("__import__('os')", 0, "no meaning here"),
    ("abs(3)", 0, "no unit known here"),
]


@pytest.mark.parametrize(("text", "position", "words"), REFUSED)
def test_what_is_not_one_length_is_refused_with_place_and_remedy(
    text: str, position: int, words: str
) -> None:
    with pytest.raises(QuantityError) as caught:
        parse_length(text)

    error = caught.value
    assert words in str(error)
    assert error.position == position
    assert error.sentence.endswith(".")
    assert error.advice.endswith((".", "?"))


def test_brackets_are_read_twenty_deep_and_no_deeper() -> None:
    assert parse_length("(" * 20 + "7" + ")" * 20) == 7.0
    with pytest.raises(QuantityError, match="nested more than 20 deep") as caught:
        parse_length("(" * 21 + "7" + ")" * 21)
    assert caught.value.position == 20


def test_text_is_read_up_to_its_longest_and_no_longer() -> None:
    assert parse_length("7".rjust(LONGEST_TEXT)) == 7.0
    with pytest.raises(QuantityError, match="201 characters; at most 200"):
        parse_length("7".rjust(LONGEST_TEXT + 1))


def test_a_row_of_signs_as_long_as_may_be_typed_is_read() -> None:
    assert parse_length("-" * (LONGEST_TEXT - 2) + "7") == 7.0


@pytest.mark.parametrize("unit", ["kg", "furlong", "", "mm mm", "mm 2", "2 mm"])
def test_a_field_with_a_wrong_unit_is_an_error_of_the_caller(unit: str) -> None:
    with pytest.raises(ValueError, match="unit"):
        unit_factor(unit, LENGTH)


@given(st.text(alphabet="0123456789.,+-*/()'\" emincftkgNx\u00bd\u2212\u00b0\u00b2^", max_size=40))
def test_any_text_gives_a_finite_number_or_a_refusal_with_a_place(text: str) -> None:
    for parse in (parse_length, parse_angle, parse_number, parse_stress):
        try:
            value = parse(text)
        except QuantityError as error:
            assert 0 <= error.position <= len(text)  # noqa: PT017 (either way is right)
        else:
            assert abs(value) < float("inf")


@given(st.text(max_size=250))
def test_no_text_at_all_breaks_the_reader(text: str) -> None:
    try:
        parse_length(text)
    except QuantityError as error:
        assert error.sentence  # noqa: PT017 (either way is right)
        assert error.advice  # noqa: PT017
