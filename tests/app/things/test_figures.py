"""Figures as they are shown and read, by their unit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.widgets.figures import at_rest, in_full, read_figure, step_of
from core.quantities import QuantityError

NUMBERS = st.floats(-1e6, 1e6, allow_nan=False).map(lambda x: round(x, 6))
UNITS = ["mm", "deg", "kg", "N", "N m", "N/mm", "MPa", "kg/m3", "in", "rpm", "%", ""]


@pytest.mark.parametrize(
    ("value", "unit", "shown"),
    [
        (285.0, "mm", "285.0"),
        (400.58, "mm", "400.58"),  # typed with two decimals, so shown with two
        (312.3456789, "mm", "312.3"),  # made by a drag: the usual digits
        (-2200.0, "mm", "\u22122200.0"),
        (0.05, "deg", "0.05"),
        (7850.0, "kg/m3", "7850"),
        (4, "", "4"),
        (3.1, "", "3.1"),
        (15.0, "in", "15.0"),
    ],
)
def test_figures_at_rest(value: float, unit: str, shown: str) -> None:
    assert at_rest(value, unit) == shown


@given(NUMBERS, st.sampled_from(UNITS))
def test_what_is_shown_in_full_is_read_back_as_the_same_number(value: float, unit: str) -> None:
    assert read_figure(in_full(value, unit), unit) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("1 1/2 in", "mm", 38.1),  # the inch is 25.4 mm exactly: the 1959 agreement
        ("25.4*3", "mm", 76.2),
        ("381 mm", "in", 15.0),
        ("15", "in", 15.0),
        ("7850 kg/m3", "kg/m3", 7850.0),
        ("50 %", "%", 50.0),
        ("12 in / 4 in", "", 3.0),
    ],
)
def test_what_is_typed_is_read_in_its_unit(typed: str, unit: str, value: float) -> None:
    assert read_figure(typed, unit) == pytest.approx(value, rel=1e-12)


@pytest.mark.parametrize(("typed", "unit"), [("12 kg", "mm"), ("", "mm"), ("abc", ""), ("3 m", "")])
def test_what_cannot_be_read_is_refused_in_a_sentence(typed: str, unit: str) -> None:
    with pytest.raises(QuantityError) as error:
        read_figure(typed, unit)

    assert str(error.value).endswith(".")


def test_a_step_is_the_last_digit_at_rest() -> None:
    assert step_of("mm") == pytest.approx(0.1)
    assert step_of("deg") == pytest.approx(0.01)
    assert step_of("rpm") == 1.0
    assert step_of("", is_count=True) == 1.0
