"""Cars built on paper: by hand on level arms, the same answer twice, what is taken for granted."""

import math
from dataclasses import replace

import numpy as np
import pytest

from core.document.base import Fact, Ref
from core.document.links import Adjuster
from core.document.lookup import Lookup, sides
from core.document.project import Document, empty_project
from core.edits.limits import set_limit
from core.edits.values import set_fact
from core.engine.address import Address
from core.engine.cells import NotComputedError
from core.study.built import BATCH, Built, Spread, built_cars, what_is_built
from tests.app.cars import tubes_only
from tests.core.assess.made_corners import Made, level_h_arm, made
from tests.core.study.demo import demo, second
from tests.core.study.level_car import BEHIND, exact_but, level, sizes, with_value

FEW = 2000


def built(car: Made, count: int = FEW) -> Built:
    return built_cars(car.document, car.corner, count)


def spread(found: Built, key: str) -> Spread:
    return next(each for each in found.spreads if each.key == key)


def test_a_toe_link_off_at_the_chassis_spreads_toe_as_known_by_hand() -> None:
    """Closed form: the rod keeps its length, so the wheel turns by the offset over its lever; of a
    uniform distribution 5 and 95 of a hundred lie at 0.9 of its half width."""
    size = 0.4

    found = built(exact_but(level(), "toe_inner", "at.y", size), 20_000)

    toe = spread(found, "toe_in")
    end = math.degrees(0.9 * size / BEHIND)
    assert (toe.low, toe.high) == pytest.approx((-end, end), rel=0.02)
    assert spread(found, "camber").high == pytest.approx(0.0, abs=1e-6)


def test_the_one_point_that_is_off_is_named_with_its_way_and_has_all_of_it() -> None:
    car = exact_but(level(), "toe_inner", "at.y", 0.4)

    first, *rest = built(car).to_jig

    assert (first.ref, first.axis) == (car.points["toe_inner"], "y")
    assert first.share == pytest.approx(1.0)
    assert first.of_axis == pytest.approx(1.0)
    assert not first.is_default
    assert sum(each.share for each in rest) == pytest.approx(0.0, abs=1e-12)


def test_what_is_measured_falls_normally_by_its_own_doubt() -> None:
    """Closed form as above, with 1.645 standard deviations at 5 and 95 of a hundred."""
    car, size = exact_but(level(), "toe_inner", "at.y", 0.4), 0.3
    fact = Fact(source="measured", uncertainty=size)
    address = Address(car.points["toe_inner"], "at.y")

    found = built(replace(car, document=set_fact(car.document, address, fact)), 20_000)

    end = math.degrees(1.645 * size / BEHIND)
    toe = spread(found, "toe_in")
    assert (toe.low, toe.high) == pytest.approx((-end, end), rel=0.03)


def test_the_same_car_gives_the_same_answer_and_another_one_another() -> None:
    car = level()

    first, again = built(car), built(car)
    other = built(car.moved("toe_inner", "at.z", 301.0))

    assert first == again
    assert spread(other, "toe_in").low != spread(first, "toe_in").low


def test_a_seed_is_kept_to() -> None:
    car = level()

    one, two = (built_cars(car.document, car.corner, FEW, seed) for seed in (1, 2))

    assert one == built_cars(car.document, car.corner, FEW, 1)
    assert spread(one, "toe_in").low != spread(two, "toe_in").low
    assert spread(one, "toe_in").low == pytest.approx(spread(two, "toe_in").low, rel=0.1)


def test_without_tolerances_the_limit_of_the_car_counts_and_it_is_said() -> None:
    car = level()

    own, limited = built(car), set_limit(car.document, "build_tolerance", 0.25, "my jig")
    by_jig = built_cars(limited, car.corner, FEW)

    assert sizes(own.held) == {1.0}
    assert all(each.is_default for each in own.held)
    assert sizes(by_jig.held) == {0.25}
    assert by_jig.default_source == "my jig"
    narrow, wide = (spread(each, "toe_in").high for each in (by_jig, own))
    assert narrow == pytest.approx(wide / 4.0, rel=0.1)


def test_of_cars_that_nothing_adjusts_those_right_as_built_are_counted() -> None:
    """Uniform toe of ±end: the share within the limit is the limit over the end."""
    size = 0.4
    car = exact_but(level(), "toe_inner", "at.y", size)

    found = built(car, 20_000)

    end = math.degrees(size / BEHIND)
    assert found.set_right is None
    assert found.right_as_built == pytest.approx(0.05 / end, abs=0.01)


def test_a_screw_that_reaches_puts_all_right_and_one_that_does_not_puts_some_right() -> None:
    size = 0.4
    car = exact_but(level(), "toe_inner", "at.y", size)
    point = car.points["toe_inner"]

    long, short = (
        built(with_value(car, "adjusters", (Adjuster(point=point, least=-end, most=end),)))
        for end in (1.0, 0.1)
    )

    off = math.degrees(size / BEHIND)
    reach = 0.05 + math.degrees(0.1 / BEHIND)
    assert long.set_right is not None
    assert short.set_right is not None
    assert long.set_right.share == 1.0
    assert short.set_right.share == pytest.approx(reach / off, abs=0.04)
    assert short.set_right.agreed == short.set_right.checked > 0


def test_the_points_of_a_stiff_arm_are_left_out_and_named() -> None:
    car = made(level_h_arm())

    found = built(car)

    assert len(found.stiff) == 4
    assert {each.ref for each in found.held}.isdisjoint(found.stiff)


def test_travel_that_is_not_known_is_said_and_the_rest_told() -> None:
    car = with_value(level(), "droop", None)

    found = built(car)

    assert [each.key for each in found.spreads][-1] == "toe change at +60 mm"
    assert any("droop" in each for each in found.lacking)


def test_it_can_be_stopped_between_batches() -> None:
    class StopError(Exception):
        pass

    car, told = level(), list[object]()

    def stop(share: object) -> None:
        told.append(share)
        if len(told) == 3:
            raise StopError

    with pytest.raises(StopError):
        built_cars(car.document, car.corner, 10 * BATCH, progress=stop)

    assert told == [0.0, 0.1, 0.2]


@pytest.mark.parametrize("document", [empty_project().drawn, tubes_only()], ids=["empty", "tubes"])
def test_a_car_without_corners_has_nothing_to_build(document: Document) -> None:
    with pytest.raises(NotComputedError):
        built_cars(document, Ref("corner1", "left"), FEW)


def test_a_corner_that_nothing_holds_cannot_be_built_and_says_why() -> None:
    car = with_value(level(), "links", ())

    with pytest.raises(NotComputedError, match="nothing is entered that holds"):
        built(car)


def test_a_corner_that_is_free_to_steer_cannot_be_built_and_says_why() -> None:
    car = level()
    links = next(c for c in car.document.corners).links[:-1]

    with pytest.raises(NotComputedError, match="not held"):
        built(with_value(car, "links", links))


@pytest.mark.parametrize("name", ["demo", "second"])
def test_every_corner_of_both_cars_is_built_and_names_five_points(name: str) -> None:
    document = {"demo": demo, "second": second}[name]()
    lookup = Lookup(document)

    for corner in document.corners:
        for ref in sides(corner):
            found = built_cars(document, ref, 500)

            assert found.reached == 500
            assert len(found.to_jig) == 5
            assert all(each.ref.id in lookup.by_id for each in found.to_jig)
            assert sorted((e.share for e in found.to_jig), reverse=True) == [
                e.share for e in found.to_jig
            ]
            assert np.sum([e.share for e in found.to_jig]) <= 1.0 + 1e-9


def test_both_sides_of_a_car_that_is_alike_come_out_alike() -> None:
    document = demo()

    left, right = (built_cars(document, Ref("corner2", side), 8000) for side in ("left", "right"))

    for one, other in zip(left.spreads, right.spreads, strict=True):
        assert one.drawn == pytest.approx(other.drawn, abs=1e-9)
        assert one.high - one.low == pytest.approx(other.high - other.low, rel=0.05)
    names = [[each.ref.id for each in found.to_jig] for found in (left, right)]
    assert names[0][:3] == names[1][:3]


def test_what_is_built_tells_the_travel_and_the_wheel() -> None:
    car = level()

    known = what_is_built(car.document, car.corner)

    assert known.bumps.tolist() == [-60.0, 60.0]
    assert [each.figure for each in known.wanted] == ["camber", "toe_in"]
    assert [each.value for each in known.wanted] == [None, None]
