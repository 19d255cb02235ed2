"""Anti-roll bars and rockers as they are drawn, and moved with their wheels."""

from itertools import groupby

import numpy as np
import pytest

from core.assess.linkages import linkage
from core.document.base import Ref
from core.engine.assess import compute
from core.scene.bars import bar_drawn
from core.scene.cells import the_scene
from core.scene.posed import posed_car, scene_at
from core.scene.records import RodRecord
from core.suspension.solve import solve
from core.suspension.travel import at
from tests.cars.stored import demo, ref
from tests.core.assess.made_corners import Made, made_up_wishbones, swinging_arm
from tests.core.assess.sprung_cars import (
    barred,
    level_bar_places,
    pushrod,
    sprung,
    wishbone_bar_places,
)


def of_wishbones(**bar: float) -> Made:
    places = wishbone_bar_places()
    car = sprung(made_up_wishbones())
    return barred(car, places, "lower arm", **({"rate_nm_per_deg": 12.0} | bar))


def parts(rods: tuple[RodRecord, ...]) -> dict[str, list[RodRecord]]:
    ordered = sorted(rods, key=lambda rod: rod.part)
    return {part: list(each) for part, each in groupby(ordered, key=lambda rod: rod.part)}


def moved(car: Made, bump: float, roll: float = 0.0) -> dict[str, list[RodRecord]]:
    scene = compute(car.document, {}, the_scene)
    posed = compute(car.document, {}, posed_car, bump, roll, 0.0)
    return parts(tuple(r for r in scene_at(scene, posed).rods if r.ref == car.axle))


def length(rod: RodRecord) -> float:
    return float(np.linalg.norm(rod.line[1] - rod.line[0]))


def test_a_bar_is_drawn_where_its_places_are_and_mirrored() -> None:
    car, places = of_wishbones(outside=22.0), wishbone_bar_places()

    found = parts(compute(car.document, {}, bar_drawn, car.axle))

    assert {part: len(rods) for part, rods in found.items()} == {
        "anti-roll bar": 1,
        "blade": 2,
        "drop link": 2,
    }
    mirror = np.array([1.0, -1.0, 1.0])
    bar = found["anti-roll bar"][0]
    assert bar.line == pytest.approx(np.array([places["bearing"], places["bearing"] * mirror]))
    assert bar.radius == 11.0
    left, right = found["drop link"]
    assert left.line == pytest.approx(np.array([places["on blade"], places["link lower"]]))
    assert right.line == pytest.approx(left.line * mirror)


def test_nothing_is_drawn_where_there_is_none() -> None:
    document = demo().drawn

    assert compute(document, {}, bar_drawn, ref(document, "front axle")) == ()


@pytest.mark.parametrize(("bump", "roll"), [(30.0, 0.0), (-40.0, 0.0), (0.0, 2.0)])
def test_moved_with_its_wheels_its_rods_keep_their_lengths(bump: float, roll: float) -> None:
    car = of_wishbones()
    drawn, now = moved(car, 0.0), moved(car, bump, roll)

    for part, rods in drawn.items():
        for before, after in zip(rods, now[part], strict=True):
            assert length(after) == pytest.approx(length(before), abs=1e-6)
    assert now["anti-roll bar"][0].line == pytest.approx(drawn["anti-roll bar"][0].line)
    turned = [
        np.abs(a.line - b.line).max() for a, b in zip(now["blade"], drawn["blade"], strict=True)
    ]
    assert min(turned) > 1.0


def test_in_roll_the_blades_part_and_on_bump_they_go_alike() -> None:
    car = of_wishbones()
    alike, apart = moved(car, 30.0)["blade"], moved(car, 0.0, 2.0)["blade"]

    assert alike[0].line[1][2] == pytest.approx(alike[1].line[1][2], abs=1e-6)
    assert abs(apart[0].line[1][2] - apart[1].line[1][2]) > 5.0


def test_a_drop_link_goes_with_the_upright_that_carries_it() -> None:
    car = barred(sprung(swinging_arm()), level_bar_places(), "upright", rate_nm_per_deg=12.0)
    poses = solve(compute(car.document, {}, linkage, car.corner), at(25.0))

    link = moved(car, 25.0)["drop link"][0]

    assert link.line[1] == pytest.approx(poses.at(level_bar_places()["link lower"]), abs=1e-6)


def test_a_bar_stays_as_drawn_where_it_is_not_known_how_far_wheels_go() -> None:
    car = of_wishbones()
    unknown = car.changed(car.corner, "links", ())

    assert [r.line.tolist() for r in moved(unknown, 30.0)["blade"]] == [
        r.line.tolist() for r in moved(unknown, 0.0)["blade"]
    ]


def test_a_rocker_with_its_rod_is_drawn() -> None:
    car = pushrod()
    scene = compute(car.document, {}, the_scene)

    names = {rod.part for rod in scene.rods if rod.ref == Ref(car.corner.id, "right")}

    assert {"rocker", "rod of rocker", "damper", "spring"} <= names
