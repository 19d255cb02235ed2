"""What is read off a corner of the document, against figures from outside the program.

Sources: both invented cars' own independent check in numpy (`reference_results` in tests/cars); and
two made-up corners whose curves two other methods agree on to nine decimals (see
tests/core/suspension/test_made_up_corners.py).
"""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from core.assess.curves import (
    QUANTITIES,
    CornerCurves,
    at_design,
    sides_apart,
    steer_curves,
    travel_curves,
)
from core.assess.travels import corner_at
from core.document.base import Ref
from core.document.links import Linkage
from core.document.project import Document, Project
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from tests.cars.stored import demo, expected, ref, second
from tests.core.assess.made_corners import (
    Made,
    made,
    made_up_trailing_arm,
    made_up_wishbones,
    reference,
    swinging_arm,
)

Car = Callable[[], Project]
CARS: dict[str, Car] = {"demo-car": demo, "second-car": second}
CORNERS = [
    (car, end, side) for car in CARS for end in ("front", "rear") for side in ("left", "right")
]
THOUSANDTH, HUNDREDTH, TENTH = 5.1e-4, 5.1e-3, 5.1e-2


def corner_of(car: str, end: str, side: str = "left") -> tuple[Document, Ref, dict[str, Any]]:
    document = CARS[car]().drawn
    return document, ref(document, f"{end} corner {side}"), expected(car)[end]


def curves_of(car: str, end: str, side: str = "left") -> tuple[CornerCurves, dict[str, Any]]:
    document, corner, wanted = corner_of(car, end, side)
    return compute(document, {}, travel_curves, corner), wanted


def read_at(car: str, end: str, side: str, key: str) -> list[float]:
    """A quantity at each wheel height that is printed."""
    document, corner, wanted = corner_of(car, end, side)
    poses = [compute(document, {}, corner_at, corner, bump, 0.0, 0.0) for bump in wanted["bump"]]
    return [float(QUANTITIES[key].of(each)) for each in poses]


@pytest.mark.parametrize(("car", "end", "side"), CORNERS)
def test_toe_camber_and_damper_over_the_travel_on_either_side(
    car: str, end: str, side: str
) -> None:
    curves, wanted = curves_of(car, end, side)

    toe, camber = (read_at(car, end, side, key) for key in ("toe_in", "camber"))
    lengths = [curves.at("damper_length", bump) for bump in wanted["bump"]]

    assert toe == pytest.approx(wanted["toe_in_deg"], abs=THOUSANDTH)
    assert camber == pytest.approx(wanted["camber_deg"], abs=THOUSANDTH)
    assert lengths == pytest.approx(wanted["damper_length"], abs=TENTH)


@pytest.mark.parametrize(("car", "end", "side"), CORNERS)
def test_both_ends_of_a_curve_are_those_of_the_travel(car: str, end: str, side: str) -> None:
    curves, wanted = curves_of(car, end, side)

    assert curves.along[[0, -1]].tolist() == [wanted["bump"][0], wanted["bump"][-1]]
    ends = [0, -1]
    assert curves.of("toe_in")[ends] == pytest.approx(
        np.array(wanted["toe_in_deg"])[ends], abs=THOUSANDTH
    )
    assert curves.of("camber")[ends] == pytest.approx(
        np.array(wanted["camber_deg"])[ends], abs=THOUSANDTH
    )


@pytest.mark.parametrize(("car", "end", "side"), CORNERS)
def test_where_the_wheel_centre_goes(car: str, end: str, side: str) -> None:
    ahead, out = (read_at(car, end, side, key) for key in ("wheelbase", "outboard"))

    moved = corner_of(car, end)[2]["wheel_centre_dx_dy"]
    assert ahead == pytest.approx([dx for dx, _ in moved], abs=HUNDREDTH)
    assert out == pytest.approx([dy for _, dy in moved], abs=HUNDREDTH)


@pytest.mark.parametrize(("car", "end", "side"), CORNERS)
def test_damper_for_each_mm_and_roll_centre_at_design(car: str, end: str, side: str) -> None:
    document, corner, wanted = corner_of(car, end, side)

    found = compute(document, {}, at_design, corner)

    ratio = wanted["motion_ratio_damper_per_wheel"]
    assert found["damper_ratio"] == pytest.approx(ratio, abs=2.0 * THOUSANDTH)
    height = wanted["roll_centre_height_instantaneous"]
    assert found["roll_centre"] == pytest.approx(height, abs=TENTH)


@pytest.mark.parametrize("side", ["left", "right"])
@pytest.mark.parametrize("car", CARS)
def test_the_steering_axis_at_design(car: str, side: str) -> None:
    document, corner, wanted = corner_of(car, "front", side)

    found = compute(document, {}, at_design, corner)

    assert found["kingpin"] == pytest.approx(wanted["kingpin_inclination_deg"], abs=HUNDREDTH)
    assert found["castor"] == pytest.approx(wanted["caster_deg"], abs=HUNDREDTH)
    assert found["trail"] == pytest.approx(wanted["mechanical_trail"], abs=TENTH)
    assert found["scrub"] == pytest.approx(wanted["scrub_radius"], abs=TENTH)


@pytest.mark.parametrize("car", CARS)
def test_the_steer_of_both_wheels_with_the_rack_at_either_stop(car: str) -> None:
    for side, other in (("left", "right"), ("right", "left")):
        document, corner, wanted = corner_of(car, "front", side)
        turned = wanted["steer_at_used_rack_travel_deg"]["rack_to_left"]
        steer = compute(document, {}, steer_curves, corner).of("steer")
        assert steer[-1] == pytest.approx(turned[f"{side}_wheel"], abs=HUNDREDTH)
        # Rack to the right is the mirror image of rack to the left.
        assert steer[0] == pytest.approx(-turned[f"{other}_wheel"], abs=HUNDREDTH)


def test_a_corner_that_nothing_steers_has_no_steer_curve() -> None:
    document, corner, _ = corner_of("demo-car", "rear")

    with pytest.raises(NotComputedError, match="nothing steers rear corner left"):
        compute(document, {}, steer_curves, corner)


def test_five_links_have_no_two_points_as_a_steering_axis() -> None:
    curves, _ = curves_of("demo-car", "rear")

    assert not {"castor", "kingpin", "trail", "scrub", "steer"} & set(curves.keys)
    with pytest.raises(KeyError, match="castor"):
        curves.of("castor")


CURVES = {
    "camber": ("camber_deg", 1e-6),
    "toe_in": ("toe_in_deg", 1e-6),
    "castor": ("castor_deg", 1e-6),
    "kingpin": ("steer_axis_inclination_deg", 1e-6),
    "scrub": ("scrub_radius", 1e-6),
    "trail": ("mechanical_trail", 1e-6),
    "roll_centre": ("roll_centre_height", 1e-5),
    "damper_length": ("spring_length", 1e-6),
    "damper_ratio": ("spring_ratio", 1e-7),
}


def check(found: CornerCurves, wanted: dict[str, Any], least: int) -> None:
    """Every second sample, 6 mm apart, stands in the file of the reference."""
    assert found.along[::2].tolist() == wanted["bump"]
    checked = [key for key in CURVES if CURVES[key][0] in wanted]
    for key in checked:
        theirs, tolerance = CURVES[key]
        assert found.of(key)[::2] == pytest.approx(np.array(wanted[theirs]), abs=tolerance), key
    assert len(checked) == least
    slope = 10.0 * np.array(wanted["toe_in_rate_deg_per_mm"])
    assert found.of("bump_steer")[::2] == pytest.approx(slope, abs=1e-7)
    gain = 10.0 * np.array(wanted["camber_rate_deg_per_mm"])
    assert found.of("camber_gain")[::2] == pytest.approx(gain, abs=1e-7)
    ahead = np.degrees(np.arctan(wanted["side_view_slope_contact"]))
    assert found.of("contact_slope")[::2] == pytest.approx(ahead, abs=1e-6)
    centre = np.degrees(np.arctan(wanted["side_view_slope_wheel_centre"]))
    assert found.of("centre_slope")[::2] == pytest.approx(centre, abs=1e-6)


def sides(car: Made) -> list[CornerCurves]:
    refs = (car.corner, car.corner.mirrored())
    return [compute(car.document, {}, travel_curves, each) for each in refs]


def test_a_corner_of_its_own_on_two_wishbones_is_that_of_two_other_methods() -> None:
    for curves in sides(made(made_up_wishbones())):
        check(curves, reference("double_wishbone_front")["curves"]["bump"], least=9)


@pytest.mark.parametrize("kind", ["trailing_arm_two_lateral_links", "other"])
def test_a_trailing_arm_by_role_or_held_by_a_ball_is_that_of_two_other_methods(
    kind: Linkage,
) -> None:
    for curves in sides(made(made_up_trailing_arm(kind))):
        wanted = reference("trailing_arm_two_lateral_links")["curves"]["bump"]
        check(curves, wanted, least=5)


def test_a_rolled_body_leans_its_wheels_as_two_other_methods_have_it() -> None:
    """Their road is at z = 0; the wheel leans a little, so its lowest place is just above that."""
    wanted = reference("double_wishbone_front")["curves"]["roll"]
    car = made(made_up_wishbones())
    above = 290.0 * (1.0 - np.cos(np.radians(0.5)))

    for at, roll in enumerate(wanted["roll_deg"]):
        if roll == 0.0:
            continue
        poses = compute(car.document, {}, corner_at, car.corner, -above, roll, 0.0)
        for key in ("camber", "toe_in"):
            found = float(QUANTITIES[key].of(poses))
            assert found == pytest.approx(wanted[CURVES[key][0]][at], abs=1e-6), (roll, key)


def test_the_right_wheel_of_a_rolled_body_is_the_left_one_rolled_the_other_way() -> None:
    car = made(made_up_wishbones())
    right = compute(car.document, {}, corner_at, car.corner.mirrored(), 0.0, 2.0, 10.0)
    left = compute(car.document, {}, corner_at, car.corner, 0.0, -2.0, -10.0)

    assert right.centre == pytest.approx(left.centre * np.array([1.0, -1.0, 1.0]), abs=1e-9)


def test_a_corner_without_a_damper_has_the_other_curves() -> None:
    car = made(swinging_arm("other"))
    bare = car.changed(car.corner, "damper", None)

    keys = [compute(each.document, {}, travel_curves, car.corner).keys for each in (car, bare)]

    assert set(keys[0]) - set(keys[1]) == {"damper_length", "damper_ratio"}
    assert set(keys[1]) < set(keys[0])


def test_what_the_wheel_cannot_reach_is_no_number() -> None:
    """An arm of 350 stands upright at 350 of bump; beyond there is nothing."""
    car = made(swinging_arm())
    far = car.changed(car.corner, "bump", 400.0)

    curves = compute(far.document, {}, travel_curves, car.corner)

    known = np.isfinite(curves.of("camber"))
    assert known[curves.along < 350.0].all()
    assert not known[curves.along > 350.0].any()


def test_own_values_of_the_right_hand_side_give_it_curves_of_its_own() -> None:
    car = made(made_up_wishbones())
    raised = car.moved("steer_outer", "at.z", 220.0)
    asymmetric = car.right_only(car.points["steer_outer"], "at.z", 220.0)

    left, right = sides(asymmetric)

    assert left.of("toe_in") == pytest.approx(sides(car)[0].of("toe_in"), abs=1e-12)
    assert right.of("toe_in") == pytest.approx(sides(raised)[0].of("toe_in"), abs=1e-9)
    assert np.abs(right.of("toe_in") - left.of("toe_in")).max() > 0.1


def test_every_quantity_says_its_unit_and_what_is_positive() -> None:
    for key, quantity in QUANTITIES.items():
        assert key == quantity.key
        assert quantity.words
        assert quantity.unit
        assert quantity.convention
    assert [sides_apart(Ref("corner1", side)) for side in ("left", "right")] == ["left", "right"]
