"""Both cars in a corner and under braking, against the moments that the whole car must balance.

No published car with every figure this needs was at hand: what is proved is that all that moves
holds the whole car up against its own weight and speed, and which end takes how much by its own
stiffness, track and roll centre, summed up here in another way.
"""

from collections.abc import Callable
from math import radians

import msgspec
import pytest

from core.assess.axles import ground, roll_centre, track, wheelbase
from core.assess.bars import roll_stiffness
from core.assess.on_wheels import on_wheels
from core.assess.pairs import axle_at, pair_of
from core.assess.transfer import in_corner, shift_per_g
from core.document.layers import replace_thing
from core.document.project import Document, Project
from core.document.running_gear import Corner
from core.engine.assess import assess, compute
from core.engine.cells import NotComputedError, Reader, When, cell
from tests.cars.stored import demo, empty, only_tubes, second

G = 9.80665
BOTH = (demo, second)
ENDS = ("front", "rear")


@cell(When.RELEASE)
def figures(read: Reader) -> dict[str, tuple[float, ...]]:
    """Of each end: track, stiffness N mm for each radian, roll centre over ground, kg and height
    of what is unsprung."""
    found: dict[str, tuple[float, ...]] = {}
    for end in ENDS:
        axle = read(axle_at, end)
        loose = [read.thing(Corner, ref).unsprung_mass_kg or 0.0 for ref in read(pair_of, axle)]
        held = read(roll_stiffness, axle).whole * 1000.0 / radians(1.0)
        low = read(roll_centre, axle)[1] - read(ground, axle)
        found[end] = (read(track, axle), held, low, sum(loose))
    return found


def without(document: Document, name: str) -> Document:
    """The document with the unsprung mass of a corner left open."""
    corner = next(each for each in document.corners if each.name == name)
    return replace_thing(document, msgspec.structs.replace(corner, unsprung_mass_kg=None))


@pytest.mark.parametrize("project", BOTH)
def test_what_moves_in_a_corner_holds_the_whole_car_up(project: Callable[[], Project]) -> None:
    """Moments about the ground: m a h of all of it, and m g times how far what leans has gone."""
    table = assess(project().drawn, {}, None, (), When.RELEASE, (in_corner, figures))
    found, ends = table.value(in_corner), table.value(figures)
    car = compute(project().drawn, {}, on_wheels, None)
    assert car.height is not None

    loose = sum(each[3] for each in ends.values())
    sprung = car.mass_kg - loose
    tyres = {end: _radius(project().drawn, end) for end in ENDS}
    height = (car.mass_kg * car.height - sum(ends[e][3] * tyres[e] for e in ENDS)) / sprung
    loads = {"front": car.front_kg, "rear": car.rear_kg}
    axis = sum((loads[e] - ends[e][3]) * ends[e][2] for e in ENDS) / sprung
    lean = sprung * G * (height - axis) * radians(found.roll_deg_per_g)
    holds = found.front.whole * ends["front"][0] + found.rear.whole * ends["rear"][0]

    assert holds == pytest.approx(car.mass_kg * G * car.height + lean, rel=1e-9)


def _radius(document: Document, end: str) -> float:
    """Loaded radius of the tyres of an end."""
    axle = next(each for each in document.axles if each.end == end)
    corner = next(each for each in document.corners if each.axle.id == axle.id)
    assert corner.tyre is not None
    tyre = next(each for each in document.tyres if each.id == corner.tyre.id)
    assert tyre.loaded_radius is not None
    return tyre.loaded_radius


@pytest.mark.parametrize("project", BOTH)
def test_each_end_takes_its_part_by_its_own_stiffness(project: Callable[[], Project]) -> None:
    table = assess(project().drawn, {}, None, (), When.RELEASE, (in_corner, figures))
    found, ends = table.value(in_corner), table.value(figures)

    for moved, end in ((found.front, "front"), (found.rear, "rear")):
        across, held = ends[end][:2]
        assert moved.elastic == pytest.approx(held * radians(found.roll_deg_per_g) / across)
    whole = found.front.whole + found.rear.whole
    assert found.front_share == pytest.approx(found.front.whole / whole)


@pytest.mark.parametrize("project", BOTH)
def test_the_wheel_that_lifts_first_is_the_one_with_least_to_spare(
    project: Callable[[], Project],
) -> None:
    document = project().drawn
    found, car = compute(document, {}, in_corner), compute(document, {}, on_wheels, None)

    spare = {
        "front": car.front_kg * G / 2.0 / found.front.whole,
        "rear": car.rear_kg * G / 2.0 / found.rear.whole,
    }
    assert found.lifts_at_g == pytest.approx(min(spare.values()))
    assert spare[found.lifts] == pytest.approx(found.lifts_at_g)


@pytest.mark.parametrize("project", BOTH)
def test_braking_moves_load_by_height_over_wheelbase(project: Callable[[], Project]) -> None:
    """m a h / l, as in any book of vehicle dynamics, for 1 g."""
    document = project().drawn
    car = compute(document, {}, on_wheels, None)
    assert car.height is not None

    wanted = car.mass_kg * G * car.height / compute(document, {}, wheelbase)

    assert compute(document, {}, shift_per_g) == pytest.approx(wanted)


def test_without_what_it_needs_nothing_is_said_of_a_corner() -> None:
    for document in (empty(), only_tubes()):
        with pytest.raises(NotComputedError, match="front axle"):
            compute(document, {}, in_corner)
        with pytest.raises(NotComputedError, match="front axle"):
            compute(document, {}, shift_per_g)
    car = without(demo().drawn, "front corner")
    with pytest.raises(NotComputedError, match="unsprung mass of front corner"):
        compute(car, {}, in_corner)
    assert compute(car, {}, shift_per_g) > 0.0


def test_more_unsprung_than_carried_is_said() -> None:
    document = demo().drawn
    corner = next(each for each in document.corners if each.name == "front corner")
    heavy = replace_thing(document, msgspec.structs.replace(corner, unsprung_mass_kg=400.0))

    with pytest.raises(NotComputedError, match="more than all"):
        compute(heavy, {}, in_corner)
