"""One end raised about the other's wheels, against scipy's rotations."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation

from core.balance.raising import End, Raised, angle_to_raise, first_down, heights
from core.geometry.types import Array

ENDS: tuple[End, ...] = ("tail", "nose")
PIVOTS = {"tail": np.array([0.0, 0.0, 280.0]), "nose": np.array([-2400.0, 0.0, 280.0])}
PLACES = st.lists(
    st.tuples(st.floats(-3200.0, 800.0), st.floats(-700.0, 700.0), st.floats(60.0, 900.0)),
    min_size=1,
    max_size=8,
)


def turned(places: Array, end: End, angle_deg: float) -> Array:
    """Heights by turning about y: the tail rises when the car turns to the front, about +y."""
    pivot = PIVOTS[end]
    way = 1.0 if end == "tail" else -1.0
    turn = Rotation.from_euler("y", way * angle_deg, degrees=True)
    return np.asarray(turn.apply(places - pivot)[:, 2] + pivot[2])


@given(PLACES, st.sampled_from(ENDS), st.floats(0.0, 60.0))
def test_heights_are_those_of_the_turned_car(
    places: list[tuple[float, ...]], end: End, angle: float
) -> None:
    at = np.array(places)

    assert heights(at, Raised(end, PIVOTS[end]), angle) == pytest.approx(
        turned(at, end, angle), abs=1e-6
    )


@given(st.sampled_from(ENDS), st.floats(10.0, 900.0))
def test_an_angle_raises_the_other_wheels_by_as_much_as_asked(end: End, by: float) -> None:
    other = PIVOTS["nose" if end == "tail" else "tail"]

    angle = angle_to_raise(other, Raised(end, PIVOTS[end]), by)

    assert turned(other[None], end, angle)[0] - other[2] == pytest.approx(by)


@given(PLACES, st.sampled_from(ENDS))
def test_what_is_first_down_touches_and_nothing_is_below_it(
    places: list[tuple[float, ...]], end: End
) -> None:
    at = np.array(places)
    ahead = at[at[:, 0] > 1.0] if end == "tail" else at[at[:, 0] < -2401.0]
    raised = Raised(end, PIVOTS[end])

    found = first_down(at, raised, left=40.0)

    if found is None:
        assert (turned(at, end, 89.9) > 39.0).all() or not len(ahead)
    else:
        low = turned(at, end, found.angle_deg)
        assert low[found.place] == pytest.approx(40.0, abs=1e-6)
        assert len(ahead)
        assert turned(ahead, end, found.angle_deg).min() == pytest.approx(40.0, abs=1e-6)


def test_what_is_too_low_on_the_level_is_down_at_once() -> None:
    at = np.array([[500.0, 0.0, 90.0], [600.0, 0.0, 150.0]])

    found = first_down(at, Raised("tail", PIVOTS["tail"]), left=100.0)

    assert found is not None
    assert (found.angle_deg, found.place) == (0.0, 0)


def test_nothing_beyond_the_wheels_is_never_down() -> None:
    at = np.array([[-500.0, 0.0, 90.0]])

    assert first_down(at, Raised("tail", PIVOTS["tail"])) is None


def test_what_cannot_be_raised_is_refused() -> None:
    raised = Raised("tail", PIVOTS["tail"])

    with pytest.raises(ValueError, match="raised side"):
        angle_to_raise(np.array([100.0, 0.0, 280.0]), raised, 10.0)
    with pytest.raises(ValueError, match="so high"):
        angle_to_raise(PIVOTS["nose"], raised, 2500.0)
