"""Speed of a step of the travel strip's sliders, as a ratio to solving its four corners alone."""

from itertools import count

from core.assess.linkages import linkage
from core.document.lookup import sides
from core.engine.assess import Assessment, assess, compute
from core.engine.cells import Cell, Reader, When
from core.scene.cells import the_scene
from core.scene.posed import PosedCar, posed_car, scene_at
from core.suspension.solve import solve
from core.suspension.travel import at
from tests.bench.ratios import Bound, ratio
from tests.cars.stored import demo

STEP = Bound(most=4.0, measured=2.8)
"""Wheels, figures, rods and solids of the scene, against the poses they stand on."""


def test_a_step_of_a_slider_costs_few_times_the_poses_it_shows() -> None:
    document = demo().drawn
    held = [compute(document, {}, linkage, ref) for each in document.corners for ref in sides(each)]
    scene = compute(document, {}, the_scene)
    heights = (float(n % 50) + 0.01 * n for n in count(1))
    tables: list[Assessment] = []

    def step() -> PosedCar:
        height = next(heights)

        def run(read: Reader) -> PosedCar:
            return read(posed_car, height, 0.0, 10.0)

        asked = Cell("asked", When.LIVE, run)
        last = tables.pop() if tables else None
        tables.append(assess(document, {}, last, (), When.LIVE, (asked,)))
        car = tables[0].value(asked)
        scene_at(scene, car)
        return car

    def bare() -> None:
        height = next(heights)
        for each in held:
            solve(each, at(height, 10.0))

    assert len(step().corners) == len(held) == 4
    taken = ratio(step, bare, STEP)

    assert taken.holds, taken
