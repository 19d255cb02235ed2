"""Masses together and sheets by their outline, against closed forms and shapely."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial.transform import Rotation
from shapely import Polygon

from core.balance.masses import sheet, total

PLACES = st.tuples(*[st.floats(-3000.0, 3000.0)] * 3)
WEIGHED = st.lists(st.tuples(st.floats(0.1, 300.0), PLACES), min_size=1, max_size=12)


def split(weighed: list[tuple[float, tuple[float, ...]]]) -> tuple[np.ndarray, np.ndarray]:
    masses, places = zip(*weighed, strict=True)
    return np.array(masses), np.array(places)


@given(WEIGHED, st.integers(0, 11), PLACES)
def test_moving_one_mass_moves_the_whole_by_its_share(
    weighed: list[tuple[float, tuple[float, ...]]], which: int, by: tuple[float, ...]
) -> None:
    masses, places = split(weighed)
    which %= len(masses)
    moved = places.copy()
    moved[which] += by

    before, after = total(masses, places), total(masses, moved)

    share = masses[which] / masses.sum()
    assert after.centre - before.centre == pytest.approx(share * np.array(by), abs=1e-8)
    assert after.mass_kg == before.mass_kg


@given(WEIGHED, WEIGHED)
def test_two_heaps_together_weigh_as_all_their_masses(
    one: list[tuple[float, tuple[float, ...]]], other: list[tuple[float, tuple[float, ...]]]
) -> None:
    heaps = [total(*split(heap)) for heap in (one, other)]
    together = total(
        np.array([heap.mass_kg for heap in heaps]), np.array([heap.centre for heap in heaps])
    )

    whole = total(*split([*one, *other]))

    assert whole.mass_kg == pytest.approx(together.mass_kg)
    assert whole.centre == pytest.approx(together.centre, abs=1e-7)


@pytest.mark.parametrize(
    ("masses", "word"),
    [([1.0, -1.0], "below zero"), ([0.0, 0.0], "nothing"), ([1.0, float("nan")], "no number")],
)
def test_what_cannot_be_weighed_is_refused(masses: list[float], word: str) -> None:
    with pytest.raises(ValueError, match=word):
        total(np.array(masses), np.zeros((2, 3)))


@given(
    st.lists(st.floats(50.0, 900.0), min_size=3, max_size=9),
    st.tuples(*[st.floats(-3.0, 3.0)] * 3),
    PLACES,
)
def test_a_flat_sheet_has_the_area_and_centre_that_shapely_gives(
    radii: list[float], turn: tuple[float, ...], at: tuple[float, ...]
) -> None:
    """A star round the origin, turned and moved in space; shapely sees it flat."""
    angles = np.linspace(0.0, 2.0 * np.pi, len(radii), endpoint=False)
    flat = np.array(radii)[:, None] * np.column_stack([np.cos(angles), np.sin(angles)])
    turned = Rotation.from_rotvec(turn)
    outline = turned.apply(np.column_stack([flat, np.zeros(len(flat))])) + at

    found = sheet(outline)

    wanted = Polygon(flat)
    centre = turned.apply([wanted.centroid.x, wanted.centroid.y, 0.0]) + at
    assert found.area == pytest.approx(wanted.area)
    assert found.centre == pytest.approx(centre, abs=1e-7)
    assert found.out_of_flat == pytest.approx(0.0, abs=1e-7)


def test_a_sheet_with_one_corner_lifted_is_out_of_flat() -> None:
    """Square on its mean plane a corner lifted by h leaves all four off by h/4 or so."""
    outline = np.array([[0, 0, 0], [400, 0, 0], [400, 300, 8.0], [0, 300, 0]], dtype=np.float64)

    found = sheet(outline)

    assert found.out_of_flat == pytest.approx(2.0, abs=1.0)
    assert found.area == pytest.approx(400.0 * 300.0, rel=1e-3)


def test_a_sheet_without_area_is_refused() -> None:
    with pytest.raises(ValueError, match="area"):
        sheet(np.array([[0, 0, 0], [1, 0, 0], [2, 0, 0]], dtype=np.float64))
