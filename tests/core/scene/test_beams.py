"""A rigid axle drawn, and shown moved: in one piece, its links as long as drawn, on its stops."""

import numpy as np
import pytest

from core.document.project import Document
from core.engine.assess import compute
from core.geometry.types import Array
from core.scene.cells import the_scene
from core.scene.posed import PosedCar, PosedCorner, posed_car, scene_at
from core.scene.records import RodRecord
from core.suspension.rigid_axle_solve import solve_axle
from core.suspension.rigid_axle_travel import axle_on_road, wheels_at
from tests.core.assess.made_axles import made_axle
from tests.core.assess.made_corners import Made
from tests.core.suspension.axles import AXLE_X, HALF, RADIUS, axle, kinds, three_parallel

INSIDE = 45.0
DRAWN = {name: drawn for name, drawn in kinds().items() if name != "Watt"}
CARS = {name: made_axle(drawn) for name, drawn in DRAWN.items()}
PLACES = ((0.0, 0.0), (35.0, 0.0), (-20.0, 1.5), (0.0, -2.0))


def of_axle(document: Document, car: Made, posed: PosedCar | None = None) -> list[RodRecord]:
    scene = compute(document, {}, the_scene)
    if posed is not None:
        scene = scene_at(scene, posed)
    return [rod for rod in scene.rods if rod.ref == car.axle]


def moved(car: Made, bump: float, roll: float) -> PosedCar:
    return compute(car.document, {}, posed_car, bump, roll, 0.0)


def length(rod: RodRecord) -> float:
    return float(np.linalg.norm(rod.line[1] - rod.line[0]))


@pytest.mark.parametrize("name", [*DRAWN])
def test_the_beam_is_drawn_from_hub_to_hub_and_every_link_between_its_ends(name: str) -> None:
    rods = of_axle(CARS[name].document, CARS[name])

    beam = rods[0]
    ends = np.array([[AXLE_X, HALF - INSIDE, RADIUS], [AXLE_X, INSIDE - HALF, RADIUS]])
    assert beam.line == pytest.approx(ends)
    links = CARS[name].document.axles[0].links
    assert {link.name for link in links} <= {rod.part for rod in rods}
    assert all(rod.radius == 12.5 for rod in rods if rod.part in {link.name for link in links})


def test_an_axle_held_too_little_is_drawn_all_the_same_and_stays() -> None:
    car = made_axle(axle(*three_parallel()))

    posed = moved(car, 20.0, 0.0)

    assert len(of_axle(car.document, car)) == 1 + 3 + 3
    assert all(not isinstance(each, PosedCorner) for each in posed.corners)
    assert [rod.line.tolist() for rod in of_axle(car.document, car, posed)] == [
        rod.line.tolist() for rod in of_axle(car.document, car)
    ]


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("name", [*DRAWN])
def test_shown_moved_everything_keeps_its_length_and_chassis_ends_stay(
    name: str, place: tuple[float, float]
) -> None:
    car = CARS[name]
    drawn, there = of_axle(car.document, car), of_axle(car.document, car, moved(car, *place))

    slides = {held.name for held in car.document.axles[0].holders if held.how == "strut"}
    assert [rod.part for rod in there] == [rod.part for rod in drawn]
    for before, after in zip(drawn, there, strict=True):
        if before.part not in slides:
            assert length(after) == pytest.approx(length(before), abs=1e-6)
        if before.part != "axle":
            assert after.line[0] == pytest.approx(before.line[0], abs=1e-12)


@pytest.mark.parametrize("place", PLACES)
def test_the_beam_stands_where_the_room_puts_it(place: tuple[float, float]) -> None:
    bump, roll = place
    drawn = DRAWN["triangulated"]
    asked = axle_on_road(roll, bump) if roll else wheels_at(bump, bump)
    wanted = solve_axle(drawn, asked)

    car = CARS["triangulated"]
    beam = of_axle(car.document, car, moved(car, *place))[0]

    ends = [wanted.at(np.array([AXLE_X, side * (HALF - INSIDE), RADIUS])) for side in (1.0, -1.0)]
    assert beam.line == pytest.approx(np.array(ends), abs=1e-6)


def heights(posed: PosedCar) -> dict[str, float]:
    return {
        each.standing.name: each.standing.rise
        for each in posed.corners
        if isinstance(each, PosedCorner)
    }


def test_a_wheel_at_its_stop_holds_the_axle_and_the_other_goes_on() -> None:
    """55 up with 1 degree of roll, the left side up: the right wheel would go past its 60."""
    car = CARS["triangulated"]
    posed = moved(car, 55.0, 1.0)

    found = heights(posed)

    free = solve_axle(DRAWN["triangulated"], axle_on_road(1.0, 55.0))
    left = float((free.wheel("left").centre)[2]) - RADIUS
    assert found["rear right"] == pytest.approx(60.0, abs=1e-6)
    assert found["rear left"] == pytest.approx(left, abs=1e-6)
    stopped = {
        each.standing.name: each.standing.stopped
        for each in posed.corners
        if isinstance(each, PosedCorner)
    }
    assert stopped["rear left"] == ""
    assert "at its bump stop, 60 up" in stopped["rear right"]
    assert in_one_piece(posed)


def in_one_piece(posed: PosedCar) -> bool:
    """Whether both wheels see the axle turned the same way."""
    turns: list[Array] = [
        each.standing.poses.rotation for each in posed.corners if isinstance(each, PosedCorner)
    ]
    return len(turns) == 2 and bool(np.allclose(turns[0], turns[1], atol=1e-9))


def test_past_both_stops_both_wheels_stand_on_theirs() -> None:
    posed = moved(CARS["torque tube"], -90.0, 0.0)

    assert heights(posed) == {
        "rear left": pytest.approx(-60.0, abs=1e-6),
        "rear right": pytest.approx(-60.0, abs=1e-6),
    }
    assert in_one_piece(posed)


def test_links_that_lock_stop_both_wheels_short_of_it() -> None:
    car = CARS["three links and Panhard rod"]
    far = car.changed(car.corner, "droop", 470.0)

    posed = moved(far, -460.0, 0.0)

    found = heights(posed)
    assert found["rear left"] == pytest.approx(found["rear right"], abs=1e-6)
    assert -450.0 < found["rear left"] < -400.0
    assert in_one_piece(posed)
