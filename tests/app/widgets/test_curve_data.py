"""Curves as figures: read, parted at gaps, ranged, written out."""

import csv
import io

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.widgets.curve_data import (
    Band,
    Chart,
    Cursor,
    Ends,
    Series,
    Stops,
    all_gaps,
    along_ends,
    gaps,
    lone,
    numerals,
    read,
    runs,
    told,
    value_at,
    value_ends,
)
from app.widgets.curve_frame import apart
from app.widgets.curve_scales import marks
from app.widgets.curve_table import csv_text
from core.document.base import Side

NAN = float("nan")
CHART = Chart("Toe over travel", "wheel over travel", "mm", "in +")


def curve(*values: float, side: Side = "left", why: str = "no pose", name: str = "toe") -> Series:
    along = np.arange(len(values), dtype=np.float64)
    return Series(name, side, along, np.array(values), "deg", why)


@given(
    slope=st.floats(-5, 5),
    rise=st.floats(-5, 5),
    along=st.floats(-50, 70),
)
def test_a_straight_curve_is_read_as_the_straight_line(
    slope: float, rise: float, along: float
) -> None:
    places = np.linspace(-50.0, 70.0, 41)
    series = Series("toe", "left", places, rise + slope * places, "deg")

    # Closed form: the line's own equation.
    assert value_at(series, along) == pytest.approx(rise + slope * along, abs=1e-9)


@pytest.mark.parametrize("along", [0.5, 1.0, 1.5, -0.1, 4.1])
def test_nothing_is_read_across_a_gap_or_beyond_the_ends(along: float) -> None:
    assert np.isnan(value_at(curve(1.0, NAN, 3.0, 4.0, 5.0), along))


def test_the_last_point_before_a_gap_is_read() -> None:
    series = curve(1.0, 2.0, NAN, 4.0)

    assert value_at(series, 1.0) == 2.0
    assert value_at(series, 3.0) == 4.0


def test_each_side_is_read_at_its_own_place() -> None:
    left, right = curve(0.0, 10.0), curve(0.0, 10.0, side="right")

    readings = read([left, right], Cursor(0.25, 0.75))

    assert [one.value for one in readings] == [2.5, 7.5]


def test_gaps_reach_from_the_last_figure_to_the_next() -> None:
    found = gaps(curve(NAN, 1.0, 2.0, NAN, NAN, 5.0, NAN, why="the rod is too short"))

    assert [(gap.low, gap.high) for gap in found] == [(0.0, 1.0), (2.0, 5.0), (5.0, 6.0)]
    assert {gap.words for gap in found} == {"left: the rod is too short"}


def test_a_gap_of_both_sides_for_one_reason_is_told_once_without_a_side() -> None:
    left, right = curve(1.0, NAN, 1.0, why="x"), curve(1.0, NAN, 1.0, side="right", why="x")
    other = curve(1.0, NAN, 1.0, side="right", why="y")

    assert [gap.words for gap in all_gaps([left, right])] == ["x"]
    assert [gap.words for gap in all_gaps([left, other])] == ["left: x", "right: y"]


@given(st.lists(st.one_of(st.just(NAN), st.floats(-9, 9)), max_size=12))
def test_stretches_and_single_points_hold_every_figure_once(values: list[float]) -> None:
    series = curve(*values)

    drawn = [value for _, stretch in runs(series) for value in stretch]
    drawn += [value for _, value in lone(series)]

    assert sorted(drawn) == sorted(value for value in values if np.isfinite(value))
    assert all(np.isfinite(stretch).all() for _, stretch in runs(series))


def test_infinite_figures_are_gaps_too() -> None:
    assert [len(stretch) for stretch, _ in runs(curve(1.0, 2.0, np.inf, 4.0, 5.0))] == [2, 2]


def test_scales_hold_limits_zero_and_stops() -> None:
    series = curve(0.2, 0.4)

    values = value_ends([series], Band(-0.5, None, ""), CHART)
    along = along_ends([series], Stops(-3.0, None))

    assert values is not None
    assert values.low < -0.5
    assert values.high > 0.4
    assert along == Ends(-3.0, 1.0)


def test_without_a_sense_zero_is_not_dragged_in() -> None:
    values = value_ends([curve(300.0, 310.0)], None, CHART._replace(sense=""))

    assert values is not None
    assert values.low > 290.0


def test_noise_far_below_the_last_digit_is_not_blown_up_to_a_curve() -> None:
    noisy = curve(*(1e-15 * np.sin(np.arange(20))).tolist())

    values = value_ends([noisy], None, CHART)

    assert values is not None
    assert values.high - values.low > 0.03  # several of the last digit shown, 0.01


def test_no_figures_have_no_scale() -> None:
    assert value_ends([curve(NAN, NAN)], Band(-1, 1, ""), CHART) is None
    assert along_ends([], Stops(-50, 70)) is None


@pytest.mark.parametrize(
    ("values", "step", "words"),
    [
        ([-0.2, 0.0, 0.2], 0.2, ["\N{MINUS SIGN}0.2", "0.0", "+0.2"]),
        ([0.0, 20.0], 20.0, ["0", "20"]),
        ([0.25, 0.5], 0.25, ["0.25", "0.50"]),
    ],
)
def test_numerals_have_the_digits_of_their_step(
    values: list[float], step: float, words: list[str]
) -> None:
    assert numerals(values, step) == words


@given(
    low=st.floats(-1e4, 1e4),
    span=st.floats(0.01, 1e4),
    room=st.floats(60, 2000),
)
def test_scales_step_by_1_2_or_5_and_not_too_close(low: float, span: float, room: float) -> None:
    found = marks(Ends(low, low + span), room, 26.0)

    # Steps of 1, 2 and 5: common practice of drawing scales, no source.
    mantissa = found.step / 10.0 ** np.floor(np.log10(found.step) + 1e-9)
    assert min(abs(mantissa - digit) for digit in (1, 2, 5)) < 1e-6
    assert found.step / span * room >= 26.0 * (1 - 1e-6)
    slack = 1e-9 * (abs(low) + span)
    assert all(low - slack <= value <= low + span + slack for value in found.values)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=7))
def test_words_pushed_apart_do_not_meet_and_stay_inside(places: list[float]) -> None:
    found = apart(places, 12.0, 0.0, 100.0)

    assert np.all(np.diff(sorted(found)) >= 12.0 - 1e-9)
    assert min(found) >= -1e-9
    assert max(found) <= 100.0 + 1e-9


def test_words_that_have_room_stay_where_they_are() -> None:
    assert apart([50.0, 20.0], 12.0, 0.0, 100.0) == [50.0, 20.0]


def test_figures_carry_sign_and_unit_and_a_missing_one_its_reason() -> None:
    known, missing = read([curve(0.416, 0.5), curve(NAN, NAN, why="too short")], Cursor(0.0, 0.0))

    assert told(known, CHART) == "+0.42°"
    assert told(missing, CHART) == "too short"


def test_a_table_reads_back_with_empty_cells_in_gaps() -> None:
    left = Series("toe", "left", np.array([-10.0, 0.0, 10.0]), np.array([0.125, NAN, -0.5]), "deg")
    right = Series("toe", "right", np.array([0.0, 5.0]), np.array([1.0, 2.0]), "deg")

    rows = list(csv.reader(io.StringIO(csv_text([left, right], CHART))))

    assert rows == [
        ["wheel over travel, mm", "toe left, deg", "toe right, deg"],
        ["-10", "0.125", ""],
        ["0", "", "1"],
        ["5", "", "2"],
        ["10", "-0.5", ""],
    ]


@pytest.mark.parametrize(
    ("along", "values"),
    [([0.0, 1.0], [0.0]), ([0.0, 0.0], [1.0, 2.0]), ([0.0, NAN], [1.0, 2.0])],
)
def test_a_curve_that_does_not_run_along_is_refused(
    along: list[float], values: list[float]
) -> None:
    with pytest.raises(ValueError, match="toe"):
        Series("toe", "left", np.array(along), np.array(values), "deg")
