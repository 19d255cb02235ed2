"""What reading the document and telling the result adds to ten thousand cars built on paper."""

import numpy as np

from core.study.built import COUNT, Built, built_cars, what_is_built
from core.suspension.built_cars import BuiltCars, build_cars
from tests.bench.ratios import Bound, Turns, ratio
from tests.core.study.level_car import level

STUDY = Bound(most=1.7, measured=1.1)
"""The study of a corner that nothing adjusts against the room's cars alone, all in one batch."""


def test_the_study_adds_little_to_the_cars_themselves() -> None:
    car = level()
    known = what_is_built(car.document, car.corner)

    def study() -> Built:
        return built_cars(car.document, car.corner)

    def room() -> BuiltCars:
        lots = np.random.default_rng(known.seed)
        return build_cars(known.linkage, known.tolerances, known.bumps, COUNT, lots)

    taken = ratio(study, room, STUDY, Turns(4, 10))

    assert study().reached == COUNT
    assert taken.holds, taken
