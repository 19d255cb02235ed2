"""What both corners of an axle do together.

Sources: both invented cars' own independent check in numpy (`reference_results`); the Ackermann
condition (T. D. Gillespie, Fundamentals of Vehicle Dynamics, SAE 1992, from memory); closed forms.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import msgspec
import numpy as np
import pytest

from core.assess.axles import ground, roll_centre, steering, track, wheelbase
from core.assess.linkages import linkage
from core.assess.pairs import pair_of
from core.document.base import Ref, Vec3
from core.document.project import Document, Project
from core.edits.values import change
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.workshop.figures import figures
from tests.cars.stored import demo, empty, expected, ref, second
from tests.core.assess.made_corners import (
    made,
    made_up_wishbones,
    published_wishbones,
    swinging_arm,
)

CARS: dict[str, Callable[[], Project]] = {"demo-car": demo, "second-car": second}
TENTH, HUNDREDTH = 5.1e-2, 5.1e-3


def axle(car: str, end: str) -> tuple[Document, Ref, dict[str, Any]]:
    document = CARS[car]().drawn
    return document, ref(document, f"{end} axle"), expected(car)[end]


@pytest.mark.parametrize("end", ["front", "rear"])
@pytest.mark.parametrize("car", CARS)
def test_the_roll_centre_of_both_cars_stands_on_the_centre_plane(car: str, end: str) -> None:
    document, of, wanted = axle(car, end)

    aside, height = compute(document, {}, roll_centre, of)

    height -= compute(document, {}, ground, of)
    assert height == pytest.approx(wanted["roll_centre_height_instantaneous"], abs=TENTH)
    assert aside == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize("car", CARS)
def test_both_wheels_steer_as_worked_out_apart(car: str) -> None:
    document, of, wanted = axle(car, "front")
    turned = wanted["steer_at_used_rack_travel_deg"]["rack_to_left"]

    found = compute(document, {}, steering, of)

    assert found.left_deg[-1] == pytest.approx(turned["left_wheel"], abs=HUNDREDTH)
    assert found.right_deg[-1] == pytest.approx(turned["right_wheel"], abs=HUNDREDTH)
    assert found.left_deg == pytest.approx(-found.right_deg[::-1], abs=1e-9)
    assert found.rack[0] == -found.rack[-1]


@pytest.mark.parametrize("car", CARS)
def test_the_turning_circle_lies_between_those_that_either_wheel_asks_for(car: str) -> None:
    """Of a wheel turned by d, with the wheelbase L: its own path is 2 L / sin d across; the other
    wheel's, about the same centre on the rear axle line, 2 hypot(L, L / tan d -+ track)."""
    document, of, wanted = axle(car, "front")
    both = wanted["steer_at_used_rack_travel_deg"]["rack_to_left"].values()
    outer, inner = sorted(np.radians(np.abs(list(both))))
    base, across = compute(document, {}, wheelbase), compute(document, {}, track, of)

    found = compute(document, {}, steering, of)

    by_outer = 2.0 * base / np.sin(outer)
    by_inner = 2.0 * np.hypot(base, base / np.tan(inner) + across)
    low, high = sorted((by_outer, by_inner))
    assert low < found.smallest_circle < high
    assert np.isinf(found.circle[20])
    assert found.circle[0] == pytest.approx(found.circle[-1], rel=1e-9)


def test_the_share_of_the_geometric_difference_of_steer() -> None:
    """cot outer - cot inner = distance of the steering axes at the road / wheelbase. The distance
    by the scrub radius that is printed: the axes stand that much inboard of the contacts."""
    document, of, wanted = axle("demo-car", "front")
    turned = wanted["steer_at_used_rack_travel_deg"]["rack_to_left"]
    inner, outer = (np.radians(turned[f"{side}_wheel"]) for side in ("left", "right"))
    across = 2.0 * (690.0 - wanted["scrub_radius"])
    full = np.arctan(1.0 / (1.0 / np.tan(outer) - across / 2400.0))

    found = compute(document, {}, steering, of).ackermann

    assert found[-1] == pytest.approx((inner - outer) / (full - outer), abs=2e-3)
    assert found[0] == pytest.approx(found[-1], abs=1e-9)
    assert np.isnan(found[20])


@pytest.mark.parametrize(("car", "base"), [("demo-car", 2400.0), ("second-car", 1900.0)])
def test_the_wheelbase_is_between_wheel_centres(car: str, base: float) -> None:
    """As entered with both cars' wheel centres; the second's are printed to a thousandth."""
    assert compute(CARS[car]().drawn, {}, wheelbase) == pytest.approx(base, abs=1e-2)


def test_the_track_is_between_contacts() -> None:
    """Wheel centre at 590, radius 268, top leaning inboard by a degree: the contact is that much
    further out."""
    document, of, _ = axle("second-car", "rear")
    lean = np.degrees(np.arcsin(0.0174524))
    radius = next(tyre.loaded_radius for tyre in document.tyres if "rear" in tyre.name)
    assert radius is not None

    out = 590.0 + radius * np.sin(np.radians(lean))

    assert compute(document, {}, track, of) == pytest.approx(2.0 * out, abs=0.02)


def test_an_own_place_of_the_right_side_moves_the_roll_centre_off_the_middle() -> None:
    car = made(made_up_wishbones())
    apart = car.right_only(car.points["lower_outer"], "at.z", 195.0)

    asides = [compute(each.document, {}, roll_centre, car.axle)[0] for each in (car, apart)]

    assert asides[0] == pytest.approx(0.0, abs=1e-9)
    assert abs(asides[1]) > 5.0


def test_two_corners_entered_one_by_one_are_a_pair_all_the_same() -> None:
    car = made(published_wishbones())
    thing = car.document.corners[0]
    face, spin = thing.upright.hub_face, thing.upright.spin_axis
    upright = msgspec.structs.replace(
        thing.upright, hub_face=face._replace(y=-face.y), spin_axis=spin._replace(y=-spin.y)
    )
    links = tuple(
        msgspec.structs.replace(each, inner=each.inner.mirrored(), outer=each.outer.mirrored())
        for each in thing.links
    )
    left = msgspec.structs.replace(thing, pair=False)
    right = msgspec.structs.replace(
        thing, id="corner99", name="other", pair=False, upright=upright, links=links
    )
    document = msgspec.structs.replace(car.document, corners=(right, left), next_number=100)

    assert compute(document, {}, pair_of, car.axle) == (Ref(thing.id), Ref("corner99"))
    assert compute(document, {}, linkage, Ref("corner99")).side == "right"
    found = compute(document, {}, roll_centre, car.axle)
    assert found == pytest.approx(compute(car.document, {}, roll_centre, car.axle), abs=1e-9)


def test_an_axle_with_one_corner_has_no_roll_centre() -> None:
    car = made(swinging_arm())
    alone = msgspec.structs.replace(car.document.corners[0], pair=False)
    document = msgspec.structs.replace(car.document, corners=(alone,))

    for asked in (roll_centre, track, steering):
        with pytest.raises(NotComputedError, match="axle has not one left and one right corner"):
            compute(document, {}, asked, car.axle)


def test_corners_that_do_not_travel_alike_have_no_roll_centre_together() -> None:
    car = made(swinging_arm())
    apart = car.right_only(car.corner, "bump", 0.0)

    with pytest.raises(NotComputedError, match="do not travel alike"):
        compute(apart.document, {}, roll_centre, car.axle)


def test_a_car_of_one_axle_has_no_wheelbase_and_says_why() -> None:
    car = made(made_up_wishbones())

    with pytest.raises(NotComputedError, match="there is no rear axle"):
        compute(car.document, {}, steering, car.axle)
    with pytest.raises(NotComputedError, match="there is no front axle"):
        compute(empty(), {}, wheelbase)


def test_the_figures_of_a_car_tell_its_roll_centres_and_its_turning_circle() -> None:
    document, of, wanted = axle("demo-car", "front")

    found = {figure.what: figure for figure in compute(document, {}, figures)}

    centre, circle = found["roll centre height, front axle"], found["turning circle, front axle"]
    assert centre.value == pytest.approx(wanted["roll_centre_height_instantaneous"], abs=TENTH)
    assert circle.value == compute(document, {}, steering, of).smallest_circle
    assert "turning circle, rear axle" not in found


def test_the_height_of_a_roll_centre_is_over_the_ground_wherever_the_car_is_drawn() -> None:
    """The published corner stands with its wheel centres at z = 0, so the ground is far below."""
    plan = published_wishbones()
    low = {name: (x, y, z - 285.0) for name, (x, y, z) in plan.places.items()}
    assert plan.rack is not None
    x, y, z = plan.rack
    heights = [
        {figure.what: figure.value for figure in compute(made(each).document, {}, figures)}
        for each in (plan, replace(plan, places=low, rack=(x, y, z - 285.0)))
    ]

    drawn, lowered = (each["roll centre height, axle"] for each in heights)

    assert drawn is not None
    assert lowered == pytest.approx(drawn, abs=1e-6)


def test_a_figure_that_is_not_known_says_why() -> None:
    car = made(made_up_wishbones())
    less = car.changed(car.corner, "bump", None)

    found = {figure.what: figure for figure in compute(less.document, {}, figures)}

    centre = found["roll centre height, axle"]
    assert centre.value is None
    assert "how far the wheel of corner left bumps is not known" in centre.note


def test_moving_the_rack_back_moves_no_wheel_but_turns_both_otherwise() -> None:
    document, of, _ = axle("demo-car", "front")
    rack = Ref(document.racks[0].id)
    moved = change(document, Address(rack, "centre"), Vec3(122.0, 0.0, 230.0))

    before, after = (compute(each, {}, steering, of) for each in (document, moved))

    assert before.left_deg[-1] != pytest.approx(after.left_deg[-1], abs=1e-3)
    assert compute(moved, {}, track, of) == pytest.approx(
        compute(document, {}, track, of), abs=1e-9
    )
