"""Studies of a corner done away from the window: many built cars, and its geometry settled."""

from typing import NamedTuple

from app.worker import Progress
from core.document.base import Ref
from core.document.project import Document
from core.study.built import Built, built_cars
from core.study.settle import propose
from core.study.settle_records import Proposal, Settling


class ToBuild(NamedTuple):
    """A corner to be built on paper, and how many times."""

    document: Document
    corner: Ref
    cars: int


def build(request: ToBuild, progress: Progress) -> Built:
    """What becomes of a corner; `progress` is told the share done."""
    return built_cars(request.document, request.corner, request.cars, progress=progress)


def settle(request: Settling, progress: Progress) -> Proposal:
    """Where the points of a corner might go; `progress` is told how many drawings were tried."""
    return propose(request, progress)
