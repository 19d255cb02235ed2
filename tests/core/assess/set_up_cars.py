"""The demo car with its adjusters and boards otherwise, for the tests of setting up."""

import json
from functools import cache
from typing import Any

import msgspec
import numpy as np

from core.document.base import Ref
from core.document.boards import ToeReading
from core.document.layers import replace_thing
from core.document.links import Adjuster
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.running_gear import Corner
from core.edits.boards import begin_board
from core.edits.values import put_value
from core.engine.address import Address
from tests.cars.stored import HERE, demo
from tests.oracles.five_rods import Array, FiveRods, of_neutral

HEIGHTS = (-60.0, -40.0, -20.0, 0.0, 20.0, 40.0, 60.0)


@cache
def rods(end: str) -> FiveRods:
    """The left wheel of the demo car for the oracle, from the neutral file."""
    car: dict[str, Any] = json.loads((HERE / "demo-car.json").read_text("utf-8"))
    return of_neutral(car, end)


def corner(document: Document, end: str, side: str = "left") -> Ref:
    """A corner of a car by its end and side."""
    return Lookup(document).find(f"{end} corner {side}")[0]


def with_corner(end: str, document: Document | None = None, **fields: object) -> Document:
    """The demo car with fields of a pair of corners replaced."""
    start = demo().drawn if document is None else document
    old = Lookup(start).by_id[corner(start, end).id]
    return replace_thing(start, msgspec.structs.replace(old, **fields))


def adjusters(end: str, **fields: Any) -> tuple[Adjuster, ...]:  # noqa: ANN401
    """The adjusters of a corner of the demo car, with fields of each replaced."""
    thing = Lookup(demo().drawn).by_id[corner(demo().drawn, end).id]
    assert isinstance(thing, Corner)
    return tuple(msgspec.structs.replace(each, **fields) for each in thing.adjusters)


def point(label: str) -> Ref:
    """A point of the demo car, or an end of its rack."""
    if label.startswith("steering_rack_"):
        rack = Lookup(demo().drawn).find("steering_rack")[0]
        return Ref(rack.id, "left" if label.endswith("L") else "right")
    return Lookup(demo().drawn).find(label)[0]


def toe_of(built: FiveRods, heights: tuple[float, ...] = HEIGHTS) -> Array:
    """Toe (heights,) of a wheel, by the oracle."""
    return np.array([built.camber_toe_deg(height)[1] for height in heights])


def board_of(
    toe_deg: Array,
    end: str = "rear",
    side: str = "left",
    uncertainty_deg: float | None = 0.02,
    heights: tuple[float, ...] = HEIGHTS,
) -> tuple[Document, Ref]:
    """The demo car with a round of readings at a wheel."""
    pairs = zip(heights, toe_deg.tolist(), strict=True)
    readings = tuple(ToeReading(height=h, toe_in_deg=toe) for h, toe in pairs)
    document = demo().drawn
    document, board = begin_board(document, corner(document, end, side), readings)
    ref = Ref(board.id)
    return put_value(document, Address(ref, "uncertainty_deg"), uncertainty_deg), ref
