"""Anti-roll bars from the document to the wheels, and roll stiffness.

Closed form: level blades parallel to level trailing arms turn as these do, 1 rad in 350 mm. Else
energy by finite differences of the twist, which the room gives at pairs of heights.
"""

from collections.abc import Callable

import numpy as np
import pytest

from core.assess.axles import track
from core.assess.bars import (
    bar_at_design,
    bar_at_wheels_drawn,
    bar_rate,
    roll_split,
    roll_stiffness,
)
from core.assess.spring_parts import tyre_rate
from core.assess.springs import rates_at_design
from core.assess.travels import over_travel
from core.document.base import Ref
from core.document.links import AntiRollBar
from core.document.lookup import Lookup
from core.document.project import Project
from core.document.steel import Point
from core.edits.things import make
from core.edits.values import put_value
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import Cell, NotComputedError
from core.suspension.bar import bar_at_wheels
from core.suspension.solve import solve
from core.suspension.travel import at
from tests.cars.stored import demo, ref, second
from tests.core.assess.made_corners import ARM, Made, made_up_wishbones, swinging_arm
from tests.core.assess.sprung_cars import (
    barred,
    level_bar_places,
    sprung,
    wishbone_bar_places,
)

PER_RAD = 1000.0 * 180.0 / np.pi
BAR = 12.0


def level() -> Made:
    return barred(sprung(swinging_arm()), level_bar_places(), "upright", rate_nm_per_deg=BAR)


def of_wishbones() -> Made:
    car = sprung(made_up_wishbones())
    return barred(car, wishbone_bar_places(), "lower arm", rate_nm_per_deg=BAR)


def test_a_bar_whose_blades_turn_with_the_arms() -> None:
    found = compute(level().document, {}, bar_at_wheels_drawn, level().axle)

    one = BAR * PER_RAD / ARM**2
    assert found.rates == pytest.approx(np.array([[one, -one], [-one, one]]), rel=1e-9)
    assert (float(found.left_load), float(found.torque_nm)) == pytest.approx((0.0, 0.0), abs=1e-9)


def test_a_bar_adds_its_rate_to_what_holds_the_body_up() -> None:
    """Without tyres: t^2 / 2 times spring and twice the bar at one wheel, both sides alike."""
    car = level()
    spring = compute(car.document, {}, rates_at_design, car.corner).rate
    across = compute(car.document, {}, track, car.axle)

    found = compute(car.document, {}, roll_stiffness, car.axle)

    bar = BAR * PER_RAD / ARM**2
    assert found.springs == pytest.approx(spring * across**2 / 2.0 / PER_RAD, rel=1e-9)
    assert found.whole == pytest.approx((spring + 2 * bar) * across**2 / 2.0 / PER_RAD, rel=1e-9)
    assert found.bar == pytest.approx(found.whole - found.springs)
    assert (found.has_tyres, found.is_exact) == (False, True)


def test_the_bars_rate_at_one_wheel_is_the_slope_of_its_energy() -> None:
    """The left wheel alone moves, on the lower arm of the made-up wishbones."""
    car = of_wishbones()
    poses = [
        compute(car.document, {}, over_travel, each) for each in (car.corner, car.corner.mirrored())
    ]
    bar = compute(car.document, {}, bar_at_design, car.axle)
    step = 2.0
    heights = step * np.array([-2.0, -1.0, 0.0, 1.0, 2.0])

    moved = bar_at_wheels(
        solve(poses[0].linkage, at(heights)), solve(poses[1].linkage, at(0.0)), bar
    )
    energy = 0.5 * BAR * PER_RAD * np.radians(moved.twist_deg) ** 2
    slope = energy @ np.array([-1.0, 16.0, -30.0, 16.0, -1.0]) / (12.0 * step**2)

    found = compute(car.document, {}, bar_at_wheels_drawn, car.axle)
    assert found.rates[0, 0] == pytest.approx(slope, rel=1e-6)
    assert found.rates[1, 1] == pytest.approx(slope, rel=1e-6)  # the other side is a mirror image
    assert slope > 1.0


def test_a_drop_link_of_its_own_on_the_right_is_the_right_ones() -> None:
    car = of_wishbones()
    apart = car.right_only(car.points["on blade"], "at.x", 60.0)

    left, right = (
        compute(each.document, {}, bar_at_wheels_drawn, car.axle).rates for each in (car, apart)
    )

    assert right[0, 0] == pytest.approx(left[0, 0], rel=1e-9)
    assert abs(right[1, 1] - left[1, 1]) > 0.1


def test_a_single_place_is_mirrored_for_the_right_end() -> None:
    """A bar on single points, as one who draws one side only enters it, is the same bar."""
    car, document = level(), level().document
    refs: list[Ref] = []
    for name in ("bearing", "on blade", "link lower"):
        at = Lookup(document).by_id[car.points[name].id]
        assert isinstance(at, Point)
        document, single = make(document, Point, f"single {name}", at=at.at)
        refs.append(Ref(single.id))
    bar = AntiRollBar(
        bearing=refs[0], arm_end=refs[1], link_lower=refs[2], link_on="upright", rate_nm_per_deg=BAR
    )
    fitted = put_value(document, Address(car.axle, "bar"), bar)

    found = compute(fitted, {}, bar_at_wheels_drawn, car.axle).rates

    assert found == pytest.approx(compute(car.document, {}, bar_at_wheels_drawn, car.axle).rates)


def test_a_bar_of_round_steel_gives_by_its_sizes() -> None:
    """Torsion of a round bar, G J / L: 16 mm and 900 long give 10.0 N m a degree (by hand)."""
    sizes = {"outside": 16.0, "length": 900.0}
    car = barred(sprung(swinging_arm()), level_bar_places(), "upright", **sizes)

    found = compute(car.document, {}, bar_rate, car.axle)

    by_hand = 80_000.0 * np.pi / 32.0 * 16.0**4 / 900.0 / PER_RAD
    assert found == pytest.approx(by_hand, rel=1e-12)
    assert found == pytest.approx(9.98, abs=0.01)


def why(car: Made, cell: Cell[[Ref], object]) -> str:
    with pytest.raises(NotComputedError) as raised:
        compute(car.document, {}, cell, car.axle)
    return str(raised.value)


def test_what_is_lacking_is_named() -> None:
    bare = barred(sprung(swinging_arm()), level_bar_places(), "upright")
    on_arm = barred(sprung(swinging_arm()), level_bar_places(), "lower arm", rate_nm_per_deg=BAR)

    assert why(sprung(swinging_arm()), bar_at_design) == "no anti-roll bar is entered for axle"
    assert why(bare, roll_stiffness) == (
        "neither the rate of the anti-roll bar of axle nor its sizes are known"
    )
    assert "corner left has no lower arm" in why(on_arm, roll_stiffness)


def test_a_drop_link_in_line_with_its_blade_is_told() -> None:
    places = level_bar_places()
    places["link lower"] = places["on blade"] + np.array([-200.0, 0.0, 0.0])
    car = barred(sprung(swinging_arm()), places, "upright", rate_nm_per_deg=BAR)

    assert "dead centre" in why(car, bar_at_wheels_drawn)


@pytest.mark.parametrize("car", [demo, second])
def test_both_cars_roll_on_springs_and_tyres_one_upon_the_other(
    car: Callable[[], Project],
) -> None:
    """Half the track squared times the sides' compliances, added up by hand."""
    document = car().drawn
    whole = []
    for end in ("front", "rear"):
        axle = ref(document, f"{end} axle")
        gives = 0.0
        for side in ("left", "right"):
            corner = ref(document, f"{end} corner {side}")
            tyre = compute(document, {}, tyre_rate, corner)
            assert tyre is not None
            gives += 1.0 / compute(document, {}, rates_at_design, corner).rate + 1.0 / tyre
        across = compute(document, {}, track, axle)
        found = compute(document, {}, roll_stiffness, axle)
        assert found.whole == pytest.approx(across**2 / gives / PER_RAD, rel=1e-9)
        assert found.bar is None
        whole.append(found.whole)

    share = compute(document, {}, roll_split)
    assert share == pytest.approx(whole[0] / sum(whole), rel=1e-12)
