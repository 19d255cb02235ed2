"""Speed of the file as a ratio to the json module on the same bytes, and the size of an edit."""

import gc
import json
import tracemalloc
from pathlib import Path

import msgspec

from core.document.base import Ref, Vec3
from core.document.codec import decode_project, encode_project, read_project
from core.document.project import Project
from core.document.steel import Point
from core.edits.points import move_point
from core.history import begin, record
from tests.bench.ratios import Bound, ratio

DEMO = Path(__file__).parents[2] / "assets" / "demo-car.jigplate"

READING = Bound(most=10.0, measured=6.7)
"""Against the json module, which reads the same bytes into plain data. Reading here makes every
value of its type, holds every rule of one thing and between things, and lays every layer."""

WRITING = Bound(most=0.6, measured=0.32)
"""Against the json module, which writes the same data."""

MOST_BYTES = 3000
"""Most bytes that an edit may take in undo. Measured: 1222."""

EDITS = 150


def test_reading_costs_some_times_what_the_json_module_takes() -> None:
    data = DEMO.read_bytes()

    taken = ratio(lambda: decode_project(data), lambda: json.loads(data), READING)

    assert taken.holds, taken


def test_writing_costs_no_more_than_the_json_module() -> None:
    project = read_project(DEMO)
    plain = json.loads(DEMO.read_bytes())

    taken = ratio(lambda: encode_project(project), lambda: json.dumps(plain), WRITING)

    assert taken.holds, taken


def test_an_edit_kept_in_undo_is_small() -> None:
    """Moves of points of the demo car, one point after another, each to another place."""
    project = read_project(DEMO)
    free = movable(project)
    history = begin(project)
    gc.collect()
    tracemalloc.start()
    before = tracemalloc.get_traced_memory()[0]

    for number in range(EDITS):
        drawn = history.present.drawn
        ref = free[number % len(free)]
        to = Vec3(-1000.0 - number, 300.0 + number / 7.0, 200.0 + number / 3.0)
        moved = msgspec.structs.replace(history.present, drawn=move_point(drawn, ref, to))
        history = record(history, moved, "Move a joint")

    gc.collect()
    taken = tracemalloc.get_traced_memory()[0] - before
    tracemalloc.stop()
    assert len(history.done) == EDITS + 1
    assert taken <= MOST_BYTES * EDITS, f"{taken / EDITS:.0f} bytes an edit"


def movable(project: Project) -> list[Ref]:
    """The left pieces of points of the demo car that stand by themselves and that nothing holds."""

    def is_free(point: Point) -> bool:
        return point.pair and point.at is not None and not point.facts and not point.right

    return [Ref(point.id, "left") for point in project.drawn.points if is_free(point)]
