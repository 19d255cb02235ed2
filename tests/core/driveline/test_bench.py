"""Shafts of the demo car off the bench, worked by hand."""

import dataclasses
import json
import math
from pathlib import Path
from typing import Any

import pytest

from core.driveline.bench import BenchReadings, joint_from_bench

CARS: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "reference" / "drive_shafts_of_two_cars.json").read_text()
)
LEFT = BenchReadings(535.5, 575.5, 0.5, 45.0, 0.3, 30.0, 0.3, 2.0)


@pytest.mark.parametrize("side", ["left", "right"])
def test_bench_readings_give_the_joint_centres(side: str) -> None:
    bench, expected = (CARS["demo"]["shafts"][side][key] for key in ("bench", "from_bench"))
    readings = BenchReadings(
        pushed_home=bench["seat_to_seat_pushed_home"],
        pulled_to_stop=bench["seat_to_seat_pulled_to_stop"],
        plus_minus=bench["plus_minus"],
        gearbox_seat_to_inner_centre=bench["gearbox_seat_to_inner_centre"],
        gearbox_seat_plus_minus=bench["gearbox_seat_plus_minus"],
        outer_centre_to_hub_seat=bench["outer_centre_to_hub_seat"],
        hub_seat_plus_minus=bench["hub_seat_plus_minus"],
        reserve_each_end=bench["stroke_kept_in_reserve_each_end"],
    )

    shaft = joint_from_bench(readings)

    assert shaft.length == expected["length_joint_centres"]
    assert shaft.length_plus_minus == pytest.approx(expected["plus_minus"], abs=0.005)
    assert shaft.stroke == expected["stroke"]
    assert shaft.plunge_each_way == 18.0


def test_errors_combine_as_the_root_of_the_sum_of_squares() -> None:
    shaft = joint_from_bench(LEFT)

    # 0.5 mm twice: the middle has 0.5/sqrt 2, the difference 0.5 sqrt 2.
    assert shaft.length_plus_minus == pytest.approx(math.sqrt(0.125 + 0.09 + 0.09), abs=1e-12)
    assert shaft.stroke_plus_minus == pytest.approx(math.sqrt(0.5), abs=1e-12)


@pytest.mark.parametrize(
    "wrong",
    [
        {"pulled_to_stop": 535.5},
        {"pulled_to_stop": math.nan},
        {"plus_minus": -0.1},
        {"hub_seat_plus_minus": -0.1},
        {"reserve_each_end": -1.0},
        {"reserve_each_end": 20.0},
        {"gearbox_seat_to_inner_centre": 600.0},
    ],
)
def test_readings_that_cannot_be_are_refused(wrong: dict[str, float]) -> None:
    readings = dataclasses.replace(LEFT, **wrong)

    with pytest.raises(ValueError, match="."):
        joint_from_bench(readings)
