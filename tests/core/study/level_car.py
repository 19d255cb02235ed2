"""A car of one axle on level, equal, parallel arms, whose small movements are known by hand."""

from dataclasses import replace

from core.document.base import Fact
from core.document.project import Document
from core.edits.values import put_value, set_fact
from core.engine.address import Address
from core.study.drawing_lots import HeldTo
from tests.core.assess.made_corners import Made, Plan, made

BEHIND = 150.0
"""Toe link behind the steering axis, which stands upright, mm."""

LINKS = (
    ("lower front", "lower_front_inner", "lower_outer"),
    ("lower rear", "lower_rear_inner", "lower_outer"),
    ("upper front", "upper_front_inner", "upper_outer"),
    ("upper rear", "upper_rear_inner", "upper_outer"),
    ("toe link", "toe_inner", "toe_outer"),
)

PLACES = {
    "wheel_centre": (0.0, 700.0, 300.0),
    "lower_front_inner": (150.0, 350.0, 200.0),
    "lower_rear_inner": (-150.0, 350.0, 200.0),
    "lower_outer": (0.0, 650.0, 200.0),
    "upper_front_inner": (150.0, 350.0, 400.0),
    "upper_rear_inner": (-150.0, 350.0, 400.0),
    "upper_outer": (0.0, 650.0, 400.0),
    "toe_inner": (-BEHIND, 350.0, 300.0),
    "toe_outer": (-BEHIND, 650.0, 300.0),
}


def level() -> Made:
    """The car, its wheels 60 up and down."""
    return made(Plan(PLACES, LINKS, "double_wishbone"))


def exact_but(car: Made, point: str, path: str, tolerance: float) -> Made:
    """The same with every point held exactly but one number of one of them."""
    document = car.document
    for ref in car.points.values():
        document = set_fact(document, Address(ref, "at"), Fact(source="chosen", tolerance=0.0))
    fact = Fact(source="chosen", tolerance=tolerance)
    return replace(car, document=set_fact(document, Address(car.points[point], path), fact))


def with_value(car: Made, path: str, value: object) -> Made:
    """The same with another value of the corner."""
    return replace(car, document=put_value(car.document, Address(car.corner, path), value))


def sizes(held: tuple[HeldTo, ...]) -> set[float]:
    """How near coordinates come, each size once."""
    return {each.size for each in held}


def at(document: Document, car: Made, point: str) -> tuple[float, float, float]:
    """Where the left point of a pair is."""
    found = next(p for p in document.points if p.id == car.points[point].id)
    assert found.at is not None
    return found.at.x, found.at.y, found.at.z
