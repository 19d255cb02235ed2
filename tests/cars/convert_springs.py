"""Springs and bump stops that the builder of an invented car has ordered."""

from typing import NamedTuple

import msgspec

from core.document.base import Fact
from core.document.links import BumpStop
from core.document.project import Document
from core.document.running_gear import Corner

ORDERED = "ordered with the spring"


class Ordered(NamedTuple):
    """What is ordered for both corners of an axle.

    Attributes:
        car: of which car.
        corner: by its name.
        free: length of the spring, mm.
        block: with its coils closed.
        seats: from both eyes of the damper to the seats.
        stop: length of the bump stop, mm.
        stop_rate: N/mm.
    """

    car: str
    corner: str
    free: float
    block: float
    seats: float
    stop: float
    stop_rate: float


SPRINGS = (
    Ordered("Fennock One", "front corner", 280.0, 118.0, 181.5, 20.0, 60.0),
    Ordered("Fennock One", "rear corner", 300.0, 122.0, 192.5, 18.0, 80.0),
)


def with_springs(document: Document) -> Document:
    """The car with the springs that are ordered for it, and where their figures are from."""
    name = document.cars[0].name
    for each in SPRINGS:
        corners = tuple(
            _fitted(corner, each) if (name, corner.name) == (each.car, each.corner) else corner
            for corner in document.corners
        )
        document = msgspec.structs.replace(document, corners=corners)
    return document


def _fitted(corner: Corner, ordered: Ordered) -> Corner:
    assert corner.damper is not None
    figures = {
        "spring_free_length": ordered.free,
        "spring_block_length": ordered.block,
        "spring_seats": ordered.seats,
        "bump_stop": BumpStop(length=ordered.stop, rate=ordered.stop_rate),
    }
    facts = (Fact(of=f"damper.{path}", source="chosen", how=ORDERED) for path in sorted(figures))
    damper = msgspec.structs.replace(corner.damper, **figures)
    every = sorted((*corner.facts, *facts), key=lambda fact: (fact.of, fact.side))
    return msgspec.structs.replace(corner, damper=damper, facts=tuple(every))
