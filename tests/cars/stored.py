"""The two cars as stored, and small cars made on the spot, for tests."""

import json
from functools import cache
from pathlib import Path
from typing import Any

from core.document.base import Ref
from core.document.codec import read_project
from core.document.lookup import Lookup
from core.document.project import Document, Project, empty_project
from core.document.steel import Material, Point, Section
from core.edits.things import make
from core.edits.tubes import draw_tube

HERE = Path(__file__).parent
DEMO = HERE.parents[1] / "assets" / "demo-car.jigplate"
SECOND = HERE / "second-car.jigplate"


@cache
def demo() -> Project:
    """The demo car as stored."""
    return read_project(DEMO)


@cache
def second() -> Project:
    """The second car as stored."""
    return read_project(SECOND)


@cache
def expected(name: str) -> dict[str, Any]:
    """What was worked out for a car by its own independent check, in numpy alone."""
    data: dict[str, Any] = json.loads((HERE / f"{name}.json").read_text(encoding="utf-8"))
    results: dict[str, Any] = data["reference_results"]
    return results


def empty() -> Document:
    """A car with a name and nothing else."""
    return empty_project("Empty").drawn


def only_tubes() -> Document:
    """Four joints and the six tubes between them: a tetrahedron, which needs nothing more."""
    document, steel = make(empty(), Material, "steel", density_kg_m3=7850.0)
    document, section = make(
        document, Section, "25x2", outside=25.0, wall=2.0, material=Ref(steel.id)
    )
    corners = {
        "a": (0.0, 0.0, 100.0),
        "b": (500.0, 0.0, 100.0),
        "c": (250.0, 400.0, 100.0),
        "d": (250.0, 150.0, 500.0),
    }
    for name, at in corners.items():
        document, _ = make(document, Point, name, at=at)
    for pair in ("ab", "bc", "ca", "ad", "bd", "cd"):
        start, end = (Lookup(document).find(name)[0] for name in pair)
        document, _ = draw_tube(document, f"tube {pair}", Ref(section.id), start, end)
    return document


def ref(document: Document, label: str) -> Ref:
    """The one thing and side of that label."""
    (found,) = Lookup(document).find(label)
    return found
