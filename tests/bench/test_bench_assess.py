"""Cost of a drag step as a ratio to the rooms' own work in it, in the same run.

A drag step is one edit and the live cells after it. The rooms' own work is found out, not guessed:
while one step is assessed, each call that wiring and rules make to a room or to the geometry is
written down with what it was given; those calls alone, on the arrays they were given, are what the
step is held against. What a room builds (trees, lines, the frame as joints and tubes) counts as its
work; finding out what has changed, looking things up, and putting findings into words do not.
"""

import inspect
import sys
from collections.abc import Callable, Generator
from contextlib import contextmanager
from functools import cache, partial
from itertools import count
from typing import Any, TypeVar

import msgspec
import pytest

from core.checks.rules import assess_all
from core.document.base import Ref, Vec3
from core.document.lookup import Lookup, sides
from core.document.project import Document
from core.document.rules import check_document
from core.document.sides import on_side
from core.document.steel import Point, Tube
from core.edits.points import move_point
from core.edits.unit import move_unit
from core.edits.walks import Gone, with_references
from core.engine.address import parse_address
from core.engine.assess import Assessment
from core.engine.cells import When
from tests.bench.ratios import Bound, Turns, ratio
from tests.core.edits.cars import demo_car, demo_meshes

TURNS = Turns(enough=15, most=80)

ROOMS = ("core.driveline", "core.clearance", "core.frame", "core.geometry")
WIRING = ("core.assess", "core.checks")
STOREY = 1500.0

Edit = Callable[[Document, float], Document]
Work = Callable[[], object]
T = TypeVar("T", Point, Tube)


def joint_up(name: str, document: Document, by: float) -> Document:
    ref = parse_address(Lookup(document), name).ref
    point = on_side(Lookup(document).by_id[ref.id], ref.side)
    assert isinstance(point, Point)
    assert point.at is not None
    return move_point(document, ref, point.at._replace(z=point.at.z + by))


def unit_aside(document: Document, by: float) -> Document:
    return move_unit(document, Ref(document.power_units[0].id), Vec3(0.0, by, 0.0))


@cache
def tall_car() -> Document:
    """The first car with its frame twice more above it: 200 tubes."""
    car = demo_car()
    tubes = [on_storey(tube, storey) for storey in (0, 1, 2) for tube in car.tubes]
    points = [on_storey(point, storey) for storey in (0, 1, 2) for point in car.points]
    while sum(len(sides(tube)) for tube in tubes) > 200:
        tubes.pop()
    ids = {tube.id for tube in tubes}
    placed = [point for point in points if point.along is None or point.along.tube.id in ids]
    tall = msgspec.structs.replace(
        car, tubes=tuple(tubes), points=tuple(placed), next_number=100_000
    )
    assert check_document(tall) == []
    return tall


def on_storey(thing: T, storey: int) -> T:
    """A point or a tube, or its like so many storeys up."""
    if storey == 0:
        return thing

    def renumbered(ref: Ref) -> Ref:
        moves = ref.id.startswith(("point", "tube"))
        return Ref(number_on(ref.id, storey), ref.side) if moves else ref

    turned = with_references(thing, renumbered)
    assert not isinstance(turned, Gone)
    changed: dict[str, Any] = {
        "id": number_on(thing.id, storey),
        "name": f"{thing.name} storey {storey}",
    }
    if isinstance(turned, Point) and turned.at is not None:
        changed["at"] = turned.at._replace(z=turned.at.z + STOREY * storey)
    return msgspec.structs.replace(turned, **changed)


def number_on(thing_id: str, storey: int) -> str:
    word = thing_id.rstrip("0123456789")
    return f"{word}{10_000 * storey + int(thing_id.removeprefix(word))}"


class Calls:
    """Calls to rooms, in order, with what they were given."""

    def __init__(self) -> None:
        self.made: list[Work] = []

    def noting(self, work: Callable[..., object]) -> Callable[..., object]:
        def noted(*args: object, **kwargs: object) -> object:
            self.made.append(partial(work, *args, **kwargs))
            return work(*args, **kwargs)

        return noted

    def again(self) -> None:
        """All of them once more, and nothing else."""
        for call in self.made:
            call()


def does_room_work(value: object) -> bool:
    """Whether a name of the wiring stands for a function of a room, or a class that builds."""
    if not getattr(value, "__module__", "").startswith(ROOMS):
        return False
    builds = inspect.isclass(value) and "__post_init__" in vars(value)
    return inspect.isfunction(value) or builds


@contextmanager
def calls_to_rooms(calls: Calls) -> Generator[None]:
    """While it lasts, what wiring and rules call in the rooms is written down."""
    wiring = [module for name, module in sys.modules.items() if name.startswith(WIRING)]
    with pytest.MonkeyPatch.context() as patch:
        for module in wiring:
            for name, value in list(vars(module).items()):
                if does_room_work(value):
                    patch.setattr(module, name, calls.noting(value))
        yield


def assessed(document: Document, last: Assessment | None, upto: When) -> Assessment:
    return assess_all(document, demo_meshes(), last, upto)


def calls_in(car: Document, edit: Edit, start: Assessment) -> Calls:
    """What one step asks of the rooms."""
    calls = Calls()
    with calls_to_rooms(calls):
        assessed(edit(car, 1.0), start, When.LIVE)
    return calls


STEPS: dict[str, Edit] = {
    "a joint": partial(joint_up, "K:left"),
    "a joint of the main hoop": partial(joint_up, "D_low:left"),
    "the engine and gearbox": unit_aside,
}
HELD = {
    ("demo", "a joint"): Bound(most=4.0, measured=2.4),
    ("demo", "a joint of the main hoop"): Bound(most=4.0, measured=2.2),
    ("demo", "the engine and gearbox"): Bound(most=8.0, measured=4.0),
    ("tall", "a joint"): Bound(most=4.0, measured=2.3),
    ("tall", "a joint of the main hoop"): Bound(most=4.0, measured=1.9),
    ("tall", "the engine and gearbox"): Bound(most=8.0, measured=4.0),
}
"""Most that a whole step may cost for each second of the rooms' own work in it: a quarter more than
was measured. The aim is 2. It is kept where much moves, as when the main hoop of 200 tubes does.
Where the rooms work for less than a millisecond (the engine and gearbox) the ratio says little:
there the 2 to 3 ms of looking for what has changed and of the edit govern. A wheel plane moves its
whole corner, whose poses are held by the bench of the suspension."""
CARS = {"demo": demo_car, "tall": tall_car}


@pytest.mark.parametrize(("name", "moved"), list(HELD))
def test_a_drag_step_costs_little_more_than_the_rooms_own_work(
    name: str, moved: str, record_property: Callable[[str, object], None]
) -> None:
    car, edit = CARS[name](), STEPS[moved]
    start = assessed(edit(car, 0.5), assessed(car, None, When.ASKED), When.LIVE)
    calls, by = calls_in(car, edit, start), count(100)

    def step() -> None:
        assessed(edit(car, next(by) / 100.0), start, When.LIVE)

    found = ratio(step, calls.again, HELD[name, moved], TURNS)

    record_property("measured", str(found))
    assert len(calls.made) > 5
    assert found.holds, found


def test_what_is_taken_for_the_rooms_work_is_what_a_step_does() -> None:
    """The step answers the same while its calls are written down, and builds what must be built."""
    car = demo_car()
    first = assessed(car, None, When.ASKED)
    moved = joint_up("K:left", car, 1.0)
    calls = Calls()

    with calls_to_rooms(calls):
        noted = assessed(moved, first, When.LIVE)

    plain = assessed(moved, first, When.LIVE)
    assert noted.ran == plain.ran
    assert noted.findings() == plain.findings()
    names = [getattr(call, "func").__name__ for call in calls.made]  # noqa: B009 - a partial
    assert names.count("solve_tube") == 6, "three tubes meet at K on either side"
    assert {"gaps", "grouped", "Network", "centre_line"} <= set(names)
