"""Small corners made by the edits from their places alone, and the figures of made-up ones."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

import numpy as np

from core.document.base import Ref, Vec3
from core.document.links import Damper, Holder, Link, Linkage, Role, Upright
from core.document.project import Document
from core.document.running_gear import Axle, Corner, Hub, Rack, Tyre, Wheel
from core.document.steel import LinkEnd, Point
from core.edits.things import make
from core.edits.values import change, put_value, release
from core.engine.address import Address
from tests.cars.stored import empty

REFERENCE = Path(__file__).parents[2] / "reference"
Place = Sequence[float]
Names = tuple[str, ...]


@dataclass(frozen=True)
class Plan:
    """What a corner is made of, by the names of its places.

    Attributes:
        places: of the left piece, mm, car frame; `wheel_centre` among them.
        links: name, inner and outer end each; the inner end `rack` is the rack's ball.
        kind: of linkage.
        roles: places that have a role of their own name.
        holders: name, how, and places each.
        direction: along which a guide slides.
        rack: place of the rack's left ball, where there is one.
        damper: lower and upper eye, and what carries the lower one.
        radius: under load; none, nothing is said of it.
        spin: outboard.
        fields: of the corner, over its others.
    """

    places: Mapping[str, Place]
    links: tuple[Names, ...] = ()
    kind: Linkage = "other"
    roles: Names = ()
    holders: tuple[tuple[str, str, Names], ...] = ()
    direction: Vec3 | None = None
    rack: Place | None = None
    damper: Names = ()
    radius: float | None = 300.0
    spin: Place = (0.0, 1.0, 0.0)
    fields: Mapping[str, Any] | None = None


@dataclass(frozen=True)
class Made:
    """A car of one axle: a pair of corners and what they need."""

    document: Document
    corner: Ref
    axle: Ref
    points: Mapping[str, Ref]

    def with_joint(self, point: str, joint: LinkEnd) -> "Made":
        """The same with a joint at a point."""
        return self.changed(self.points[point], "joint", joint)

    def changed(self, ref: Ref, path: str, value: object) -> "Made":
        """The same with another value."""
        return self._with(put_value(self.document, Address(ref, path), value))

    def moved(self, point: str, path: str, value: float) -> "Made":
        """The same with both points of a pair moved."""
        return self._with(change(self.document, Address(self.points[point], path), value))

    def right_only(self, ref: Ref, path: str, value: float) -> "Made":
        """The same with a value that only the right-hand piece has."""
        right = ref.mirrored()
        return self._with(change(release(self.document, right, path), Address(right, path), value))

    def _with(self, document: Document) -> "Made":
        return Made(document, self.corner, self.axle, self.points)


class _Maker:
    def __init__(self) -> None:
        self.document = empty()
        self.points: dict[str, Ref] = {}

    def make(self, kind: Any, name: str, **fields: object) -> Ref:  # noqa: ANN401
        self.document, thing = make(self.document, kind, name, **fields)
        return Ref(thing.id, "left" if thing.pair else "one")

    def end(self, name: str, rack: Ref | None) -> Ref:
        if name == "rack":
            assert rack is not None
            return Ref(rack.id, "left")
        return self.points[name]


def made(plan: Plan) -> Made:
    """A car with one axle and its two corners, and nothing besides."""
    maker = _Maker()
    for name, place in plan.places.items():
        if name != "wheel_centre":
            maker.points[name] = maker.make(Point, name, at=_vec(place), pair=True)
    rack = _rack(maker, plan)
    axle = maker.make(Axle, "axle", end="front", rack=rack)
    fields = _fields(maker, plan, axle, rack) | dict(plan.fields or {})
    corner = maker.make(Corner, "corner", **fields)
    return Made(maker.document, corner, axle, maker.points)


def _rack(maker: _Maker, plan: Plan) -> Ref | None:
    if plan.rack is None:
        return None
    x, y, z = plan.rack
    sizes = {"ball_spacing": 2.0 * y, "used_each_way": 60.0}
    return maker.make(Rack, "rack", centre=Vec3(x, 0.0, z), **sizes)


def _fields(maker: _Maker, plan: Plan, axle: Ref, rack: Ref | None) -> dict[str, Any]:
    ends = [(name, maker.end(a, rack), maker.end(b, rack)) for name, a, b in plan.links]
    return {
        "pair": True,
        "axle": axle,
        "linkage": plan.kind,
        "links": tuple(Link(name=name, inner=inner, outer=outer) for name, inner, outer in ends),
        "points": tuple(Role(role=name, point=maker.points[name]) for name in plan.roles),
        "holders": tuple(_holders(maker, plan)),
        "upright": Upright(hub_face=_vec(plan.places["wheel_centre"]), spin_axis=_vec(plan.spin)),
        "hub": maker.make(Hub, "hub"),
        "wheel": maker.make(Wheel, "wheel", rim_width_in=6.0, rim_in=15.0, offset=0.0),
        "tyre": maker.make(Tyre, "tyre", size="195/50 R15", loaded_radius=plan.radius),
        "droop": 60.0,
        "bump": 60.0,
        "damper": _damper(maker, plan),
    }


def _holders(maker: _Maker, plan: Plan) -> "list[Holder]":
    return [
        Holder(
            name=name,
            how=cast("Any", how),
            points=tuple(maker.points[place] for place in places),
            direction=plan.direction if how == "guide" else None,
        )
        for name, how, places in plan.holders
    ]


def _damper(maker: _Maker, plan: Plan) -> Damper | None:
    if not plan.damper:
        return None
    lower, upper, on = plan.damper
    return Damper(lower=maker.points[lower], upper=maker.points[upper], lower_on=cast("Any", on))


def _vec(place: Place) -> Vec3:
    x, y, z = (float(value) for value in place)
    return Vec3(x, y, z)


def reference(name: str) -> dict[str, Any]:
    """A corner with its expected curves, from the files of the room's own tests."""
    found: dict[str, Any] = json.loads((REFERENCE / f"kinematics_{name}.json").read_text())
    return found


def spin_of(wheel: Mapping[str, float]) -> Place:
    """The spin axis from the two angles that the file was made from."""
    camber, toe = (np.radians(wheel[f"static_{name}_deg"]) for name in ("camber", "toe_in"))
    flat = np.cos(camber)
    return (float(flat * np.sin(toe)), float(flat * np.cos(toe)), float(-np.sin(camber)))


WISHBONES = (
    ("lower front", "lower_front_inner", "lower_outer"),
    ("lower rear", "lower_rear_inner", "lower_outer"),
    ("upper front", "upper_front_inner", "upper_outer"),
    ("upper rear", "upper_rear_inner", "upper_outer"),
    ("tie", "rack", "steer_outer"),
)
TRAILING = (("lower", "lower_inner", "lower_outer"), ("upper", "upper_inner", "upper_outer"))


def published_wishbones() -> Plan:
    """The corner of a textbook, raised so that its wheel stands on z = 0."""
    data = reference("textbook_double_wishbone")
    radius = data["wheel"]["tyre_radius"]
    places = {name: (x, y, z + radius) for name, (x, y, z) in data["points"].items()}
    rack, spin = places.pop("rack_end"), data["wheel"]["design_spin_axis"]
    return Plan(places, WISHBONES, "double_wishbone", rack=rack, radius=radius, spin=spin)


def made_up_wishbones() -> Plan:
    """A made-up front corner whose damper stands on the lower arm."""
    data = reference("double_wishbone_front")
    places = dict(data["points"])
    return Plan(
        places,
        WISHBONES,
        "double_wishbone",
        rack=places.pop("rack_end"),
        damper=("spring_on_lower_wishbone", "spring_on_chassis", "lower arm"),
        radius=data["wheel"]["tyre_radius"],
        spin=spin_of(data["wheel"]),
    )


def made_up_trailing_arm(kind: Linkage = "trailing_arm_two_lateral_links") -> Plan:
    """A made-up rear corner; as one of the builder's own, its pivot is told to be a ball."""
    data = reference("trailing_arm_two_lateral_links")
    is_own = kind == "other"
    return Plan(
        {name: place for name, place in data["points"].items() if "joint" not in name},
        TRAILING,
        kind,
        roles=() if is_own else ("arm_pivot",),
        holders=(("pivot", "ball", ("arm_pivot",)),) if is_own else (),
        damper=("spring_on_upright", "spring_on_chassis", "upright"),
        radius=data["wheel"]["tyre_radius"],
        spin=spin_of(data["wheel"]),
    )


ARM = 350.0


def swinging_arm(kind: Linkage = "semi_trailing_arm") -> Plan:
    """An upright that turns about a hinge square to the car, 350 ahead of the wheel centre."""
    names = ("arm_hinge_inner", "arm_hinge_outer")
    places = {
        "wheel_centre": (0.0, 700.0, 300.0),
        "arm_hinge_inner": (ARM, 400.0, 300.0),
        "arm_hinge_outer": (ARM, 600.0, 300.0),
        "eye": (0.0, 600.0, 320.0),
        "top": (0.0, 600.0, 620.0),
    }
    if kind == "semi_trailing_arm":
        return Plan(places, kind=kind, roles=names, damper=("eye", "top", "upright"))
    return Plan(places, holders=(("hinge", "hinge", names),), damper=("eye", "top", "upright"))


ACROSS = 300.0


def level_h_arm(kind: Linkage = "upper_link_lower_h_arm") -> Plan:
    """An H-arm 300 across and a link equal and parallel to it, 250 above."""
    names = ("lower_inner_front", "lower_inner_rear", "lower_outer_front", "lower_outer_rear")
    places = {
        "wheel_centre": (0.0, 700.0, 300.0),
        "lower_inner_front": (150.0, 300.0, 175.0),
        "lower_inner_rear": (-150.0, 300.0, 175.0),
        "lower_outer_front": (80.0, 300.0 + ACROSS, 175.0),
        "lower_outer_rear": (-80.0, 300.0 + ACROSS, 175.0),
        "upper_inner": (0.0, 300.0, 425.0),
        "upper_outer": (0.0, 300.0 + ACROSS, 425.0),
        "eye": (0.0, 500.0, 175.0),
        "top": (0.0, 450.0, 600.0),
    }
    links = (("upper", "upper_inner", "upper_outer"),)
    if kind == "other":
        return Plan(places, links, holders=(("H", "h_arm", names),))
    return Plan(places, links, kind, roles=names, damper=("eye", "top", "lower arm"))


def pillar() -> Plan:
    """An upright that slides up a pillar on two guides, steered by one link of 300, 100 ahead."""
    places = {
        "wheel_centre": (0.0, 700.0, 300.0),
        "low": (0.0, 600.0, 150.0),
        "high": (0.0, 600.0, 450.0),
        "tie_inner": (100.0, 300.0, 300.0),
        "tie_outer": (100.0, 600.0, 300.0),
    }
    guides = (("lower guide", "guide", ("low",)), ("upper guide", "guide", ("high",)))
    links = (("tie", "tie_inner", "tie_outer"),)
    return Plan(places, links, holders=guides, direction=Vec3(0.0, 0.0, 1.0))
