import math

import numpy as np
import pytest

from core.document.base import Fact, Vec3
from core.document.plain import FARTHEST, LARGEST_NUMBER, Plain, direction, distinct, share
from core.document.power import PowerUnit
from core.document.running_gear import Hub
from core.document.steel import Point


class Sample(Plain, frozen=True, kw_only=True):
    length: float | None = None
    count: int | None = None
    at: Vec3 | None = None
    ratios: tuple[float, ...] = ()
    line: tuple[Vec3, ...] = ()


def test_whole_numbers_become_floats_so_that_they_are_written_alike() -> None:
    sample = Sample(length=3, at=Vec3(1, 2, 3), ratios=(1, 2.5), line=(Vec3(1, 0.0, 0),))

    numbers = [sample.length, *(sample.at or ()), *sample.ratios, *sample.line[0]]
    assert {type(number) for number in numbers} == {float}
    assert sample == Sample(
        length=3.0, at=Vec3(1.0, 2.0, 3.0), ratios=(1.0, 2.5), line=((Vec3(1.0, 0.0, 0.0)),)
    )


def test_numbers_of_numpy_become_plain_ones_that_a_file_can_hold() -> None:
    array = np.array([1.0, 2.0, 3.0])

    sample = Sample(length=np.float64(4.0), at=Vec3(*array))

    assert type(sample.length) is float
    assert sample.at is not None
    assert {type(number) for number in sample.at} == {float}


def test_a_place_that_is_plain_already_is_kept_as_it_is() -> None:
    at = Vec3(1.0, 2.0, 3.0)

    assert Sample(at=at).at is at


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, 2 * LARGEST_NUMBER, 10**400])
def test_a_number_that_is_not_finite_or_absurd_is_refused(value: float) -> None:
    words = "is not a finite number, or beyond"

    with pytest.raises(ValueError, match=words):
        Sample(length=value)
    with pytest.raises(ValueError, match=words):
        Sample(at=Vec3(0.0, value, 0.0))
    with pytest.raises(ValueError, match=words):
        Sample(ratios=(1.0, value))


def test_a_place_is_not_farther_than_a_car_can_be() -> None:
    with pytest.raises(ValueError, match="beyond 100,000 either way"):
        Sample(at=Vec3(0.0, -FARTHEST - 1.0, 0.0))


@pytest.mark.parametrize("value", ["7", True, (1.0,)])
def test_what_is_no_number_is_refused(value: object) -> None:
    with pytest.raises(ValueError, match="`at` must be a number"):
        Sample(at=Vec3(value, 0.0, 0.0))  # type: ignore[arg-type]


def test_a_count_is_a_whole_number() -> None:
    assert type(Sample(count=4.0).count) is int  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="`count` must be a whole number, not 4.5"):
        Sample(count=4.5)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="`count` must be a number"):
        Sample(count=True)


def test_the_numbers_inside_things_are_looked_at_as_well() -> None:
    with pytest.raises(ValueError, match="`stud_count` must be a whole number"):
        Hub(id="hub1", name="hub", stud_count=4.5)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="`gear_ratios` is not a finite number"):
        PowerUnit(id="power_unit1", name="unit", origin=Vec3(0, 0, 0), gear_ratios=(math.nan,))
    with pytest.raises(ValueError, match="`uncertainty` is not a finite number"):
        Fact(uncertainty=math.inf)
    with pytest.raises(ValueError, match="`at` is not a finite number"):
        Point(id="point1", name="K", at=Vec3(0.0, math.nan, 0.0))


def test_directions_shares_and_names_are_held_to_sense() -> None:
    with pytest.raises(ValueError, match="it: `to` has no length, so it points nowhere"):
        direction("it", to=Vec3(0.0, 1e-200, 0.0))
    with pytest.raises(ValueError, match="it: `part` must lie between 0 and 1, not at 1.5"):
        share("it", part=1.5)
    with pytest.raises(ValueError, match="it: two ends have the same name"):
        distinct("it", "ends", ("a", "b", "a"))
    with pytest.raises(ValueError, match="it has more than 10000 ends"):
        distinct("it", "ends", tuple(map(str, range(10_001))))
