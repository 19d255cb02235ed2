"""Cost of a drag step as a ratio to the rooms' own work in it, in the same run.

A drag step is one edit and the live cells after it. The rooms' own work is found out, not guessed:
while one step is assessed, each call that wiring and rules make to a room or to the geometry is
written down with what it was given; those calls alone, on the arrays they were given, are what the
step is held against. What a room builds (trees, lines, the frame as joints and tubes) counts as its
work; finding out what has changed, looking things up, and putting findings into words do not.
"""

import inspect
import math
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import cache, partial
from typing import Any, NamedTuple, TypeVar

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
from core.edits.unit import move_unit, settle_width
from core.edits.walks import Gone, with_references
from core.engine.address import parse_address
from core.engine.assess import Assessment
from core.engine.cells import When
from tests.core.edits.cars import demo_car, demo_meshes

TURNS = 80
ENOUGH = 15
"""The measuring ends early, after this many turns, once the ratio holds."""

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


def wheel_out(document: Document, by: float) -> Document:
    return settle_width(document, Ref(document.corners[-1].id, "left"), by)


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
def calls_to_rooms(calls: Calls) -> Iterator[None]:
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


def seconds(work: Work) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


class Measured(NamedTuple):
    """Best times of one step, of its edit alone, and of the rooms' own work in it; s."""

    step: float
    edit: float
    rooms: float
    calls: int

    @property
    def ratio(self) -> float:
        return self.step / self.rooms

    def __str__(self) -> str:
        figures = [f"{1e3 * value:.2f} ms" for value in self[:3]]
        return (
            f"step {figures[0]} (of it the edit {figures[1]}), rooms {figures[2]} in "
            f"{self.calls} calls: ratio {self.ratio:.2f}"
        )


def measured(car: Document, edit: Edit, most: float) -> Measured:
    """Best times, taken by turns until the ratio holds or the turns are used up."""
    first = assessed(car, None, When.ASKED)
    start = assessed(edit(car, 0.5), first, When.LIVE)
    calls = Calls()
    with calls_to_rooms(calls):
        assessed(edit(car, 1.0), start, When.LIVE)
    best = Measured(math.inf, math.inf, math.inf, len(calls.made))
    for turn in range(TURNS):
        by = 1.0 + turn / 100.0
        alone = seconds(partial(edit, car, by))
        step = seconds(lambda by=by: assessed(edit(car, by), start, When.LIVE))  # type: ignore[misc]
        rooms = seconds(calls.again)
        best = Measured(
            min(best.step, step), min(best.edit, alone), min(best.rooms, rooms), best.calls
        )
        if turn >= ENOUGH and best.ratio <= most:
            break
    return best


STEPS = {
    "a joint": partial(joint_up, "K:left"),
    "a joint of the main hoop": partial(joint_up, "D_low:left"),
    "a wheel plane": wheel_out,
    "the engine and gearbox": unit_aside,
}
if __name__ == "__main__":
    for n, c in (("demo", demo_car()), ("tall", tall_car())):
        for k, e in STEPS.items():
            print(n, k, measured(c, e, 0.0))
