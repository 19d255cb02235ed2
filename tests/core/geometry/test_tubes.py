"""Bent tubes from their vertices: bend figures against worked values, and mirror pairs."""

import math

import numpy as np
import pytest

from core.geometry.frames import mirror
from core.geometry.tubes import (
    NoTubeShape,
    TubeShape,
    are_mirror_images,
    mirrored,
    reverse,
    shape_from_vertices,
)


def bend_deg(shape: TubeShape) -> list[float]:
    return [math.degrees(turn) for turn in shape.turns_rad]


def twist_deg(shape: TubeShape) -> list[float]:
    return [math.degrees(twist) for twist in shape.twists_rad]


# Closed form, agreed to 2e-12 with the edge lengths of a general CAD kernel (Open CASCADE) and
# to 1e-10 with a stepped machine model; printed to four decimals.
WORKED = shape_from_vertices(
    np.array(
        [[1250, 480, 250], [1050, 520, 620], [450, 430, 1060], [-140, 400, 1090], [-420, 380, 640]],
        dtype=np.float64,
    ),
    np.array([133.35, 114.3, 152.4]),
)


def test_the_worked_tube_has_its_printed_figures() -> None:
    assert WORKED.straights == pytest.approx([389.0640, 681.6925, 467.4826, 440.6817], abs=6e-5)
    assert bend_deg(WORKED) == pytest.approx([28.1461, 33.4494, 60.9581], abs=6e-5)
    assert twist_deg(WORKED) == pytest.approx([0.0, -30.5455, 8.9804], abs=6e-5)
    assert WORKED.tangents == pytest.approx([33.4286, 34.3454, 89.6955], abs=6e-5)
    assert WORKED.arcs == pytest.approx([65.5073, 66.7286, 162.1415], abs=6e-5)
    assert WORKED.length == pytest.approx(2273.2982, abs=6e-5)


def test_the_worked_tube_read_from_its_other_end_keeps_the_signs_of_its_twists() -> None:
    assert twist_deg(reverse(WORKED)) == pytest.approx([0.0, 8.9804, -30.5455], abs=6e-5)


def test_the_mirrored_tube_has_its_twists_the_other_way() -> None:
    assert twist_deg(mirrored(WORKED)) == pytest.approx([0.0, 30.5455, -8.9804], abs=6e-5)


def test_a_square_bend_of_two_legs_is_cut_to_length() -> None:
    # Own value: 500 + 400 - 2 R + R pi / 2.
    corner = np.array([[500.0, 0.0, 0.0], [0.0, 0.0, 0.0], [0.0, 0.0, 400.0]])

    assert shape_from_vertices(corner, np.array([114.3])).length == pytest.approx(
        850.9420, abs=6e-5
    )


def test_a_list_of_places_becomes_lengths_and_angles() -> None:
    # Inputs in inches from a public maths forum, "Converting XYZ Coordinates to LRA",
    # 15 May 2018; no answer was printed there: the legs are plain distances between the places.
    places = np.array(
        [
            [38.5202, -14.0264, 0.0],
            [45.3142, -14.0264, 0.0],
            [45.3142, -17.5214, 0.9654],
            [48.6822, -17.5214, 0.9654],
        ]
    )

    shape = shape_from_vertices(places, np.array([1.5, 1.5]))

    used = np.array([0.0, *shape.tangents]) + np.array([*shape.tangents, 0.0])
    assert shape.straights + used == pytest.approx([6.7940, 3.62588, 3.3680], abs=6e-6)
    assert bend_deg(shape) == pytest.approx([90.0, 90.0])
    assert twist_deg(shape) == pytest.approx([0.0, 180.0])


@pytest.mark.parametrize(
    ("angle_deg", "saving"), [(90.0, 0.42920), (60.0, 0.10750), (45.0, 0.04303), (30.0, 0.01230)]
)
def test_a_bend_saves_its_share_of_the_radius_against_the_sharp_corner(
    angle_deg: float, saving: float
) -> None:
    # 2 tan(A/2) - A. A trade quiz found on the web prints 0.43 for 90 deg; the others recomputed.
    angle = math.radians(angle_deg)
    corners = np.array(
        [[-500.0, 0.0, 0.0], [0.0, 0.0, 0.0], [500 * math.cos(angle), 500 * math.sin(angle), 0.0]]
    )

    shape = shape_from_vertices(corners, np.array([100.0]))

    assert (1000.0 - shape.length) / 100.0 == pytest.approx(saving, abs=6e-6)


def test_a_twist_is_counted_from_the_last_bend_that_bends() -> None:
    # A node on a straight leg between two bends must not swallow the twist between them.
    plain = np.array(
        [[0.0, 0.0, 0.0], [400.0, 0.0, 0.0], [400.0, 800.0, 0.0], [400.0, 800.0, 400.0]]
    )
    noded = np.insert(plain, 2, [400.0, 400.0, 0.0], axis=0)

    twists = twist_deg(shape_from_vertices(noded, np.full(3, 100.0)))

    assert twists == pytest.approx(
        [0.0, 0.0, twist_deg(shape_from_vertices(plain, np.full(2, 100.0)))[1]]
    )
    assert twists[2] == pytest.approx(90.0)


def test_a_leg_too_short_for_its_bends_is_named_with_what_is_missing() -> None:
    # Two square bends of radius 100 need 200 of the leg between them; it has 188.
    corners = np.array([[0.0, 0.0, 0.0], [400.0, 0.0, 0.0], [400.0, 188.0, 0.0], [0.0, 188.0, 0.0]])

    with pytest.raises(NoTubeShape, match="The leg from bend 1 to bend 2 is 12 mm too short"):
        shape_from_vertices(corners, np.full(2, 100.0))


@pytest.mark.parametrize("missing", [5e-10, 2e-9])
def test_rounding_alone_does_not_refuse_a_tube_that_uses_up_its_leg(missing: float) -> None:
    corners = np.array(
        [[0.0, 0.0, 0.0], [100.0, 0.0, 0.0], [100.0, 200.0 - missing, 0.0], [0.0, 200.0, 0.0]]
    )
    corners[3, 1] = corners[2, 1]

    if missing > 1e-9:
        with pytest.raises(NoTubeShape):
            shape_from_vertices(corners, np.full(2, 100.0))
    else:
        shape = shape_from_vertices(corners, np.full(2, 100.0))
        assert shape.straights.min() >= 0.0


def test_mirror_images_are_known_in_either_direction_and_only_across_the_car() -> None:
    opposite = mirrored(WORKED)

    assert are_mirror_images(WORKED, opposite, 0.01)
    assert are_mirror_images(WORKED, reverse(opposite), 0.01)
    assert not are_mirror_images(WORKED, WORKED, 0.01)
    assert not are_mirror_images(WORKED, reverse(WORKED), 0.01)


def test_mirror_images_agree_within_the_tolerance_and_no_farther() -> None:
    opposite = mirrored(WORKED)
    nudged = shape_from_vertices(opposite.vertices + np.array([0.0, 0.5, 0.0]), opposite.radii)
    wider = shape_from_vertices(opposite.vertices, opposite.radii + 0.5)

    assert [are_mirror_images(WORKED, other, 0.51) for other in (nudged, wider)] == [True, True]
    assert [are_mirror_images(WORKED, other, 0.49) for other in (nudged, wider)] == [False, False]


def test_a_hoop_across_the_car_is_its_own_mirror_image() -> None:
    feet = np.array([[-1500.0, 560.0, 130.0], [-1500.0, 400.0, 1110.0]])
    hoop = shape_from_vertices(np.concatenate([feet, mirror(feet[::-1])]), np.full(2, 135.0))

    assert are_mirror_images(hoop, hoop, 1e-6)


def test_a_node_on_a_straight_leg_does_not_spoil_a_mirror_pair() -> None:
    noded = shape_from_vertices(
        np.insert(WORKED.vertices, 1, 0.5 * (WORKED.vertices[0] + WORKED.vertices[1]), axis=0),
        np.insert(WORKED.radii, 0, 80.0),
    )

    assert are_mirror_images(mirrored(WORKED), noded, 1e-6)
    assert not are_mirror_images(
        shape_from_vertices(WORKED.vertices[[0, -1]], np.array([])), noded, 1e-6
    )
