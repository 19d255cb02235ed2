"""Cars of one rigid axle, made by the edits from an axle of the room's own tests."""

from collections.abc import Mapping, Sequence
from typing import Any, cast

from core.document.base import Ref, Vec3
from core.document.links import Damper, Holder, Link, Upright
from core.document.running_gear import Axle, Corner, Hub, Tyre, Wheel
from core.document.steel import Point
from core.edits.things import make
from core.geometry.types import Array
from core.suspension.constraints import AxleConstraint, Guide, Held, Rod, Slide
from core.suspension.rigid_axle import RigidAxle
from tests.cars.stored import empty
from tests.core.assess.made_corners import Made
from tests.core.suspension.axles import AXLE_X, HALF, RADIUS

EYE = (AXLE_X, 400.0, 250.0)
TOP = (AXLE_X, 400.0, 600.0)
"""Of a damper that stands upright on the axle, 800 apart from that of the other side."""


class _Maker:
    def __init__(self) -> None:
        self.document = empty()
        self.points: dict[str, Ref] = {}
        self._at: dict[tuple[float, ...], str] = {}

    def make(self, kind: Any, name: str, **fields: object) -> Ref:  # noqa: ANN401
        self.document, thing = make(self.document, kind, name, **fields)
        return Ref(thing.id, "left" if thing.pair else "one")

    def point(self, name: str, place: Sequence[float] | Array, carrier: str) -> Ref:
        """A point by itself; one that is at the same place already is the same."""
        at = tuple(float(value) for value in place)
        same = self._at.setdefault(at, name)
        if same == name:
            self.points[name] = self.make(Point, name, at=_vec(at), pair=False, carrier=carrier)
        return self.points[same]

    def pair(self, name: str, place: Sequence[float], carrier: str) -> Ref:
        self.points[name] = self.make(Point, name, at=_vec(place), pair=True, carrier=carrier)
        return self.points[name]


def made_axle(
    drawn: RigidAxle, fields: Mapping[str, object] | None = None, **damper: object
) -> Made:
    """A car with one rear axle, held as the room's is, on two corners that are mirror images.

    Args:
        drawn: by its constraints; its wheels are those of the room's tests.
        fields: of the corner, over its others.
        damper: fields of the damper, over its others.
    """
    maker = _Maker()
    eyes = maker.pair("eye", EYE, "upright"), maker.pair("top", TOP, "chassis")
    links = tuple(_link(maker, held) for held in drawn.constraints if isinstance(held, Rod))
    others = (held for held in drawn.constraints if not isinstance(held, Rod))
    holders = tuple(_holder(maker, held) for held in others)
    axle = maker.make(Axle, "axle", end="rear", links=links, holders=holders)
    on_it: dict[str, object] = {
        "pair": True,
        "axle": axle,
        "linkage": "rigid_axle",
        "upright": Upright(hub_face=_vec((AXLE_X, HALF, RADIUS)), spin_axis=Vec3(0.0, 1.0, 0.0)),
        "hub": maker.make(Hub, "hub"),
        "wheel": maker.make(Wheel, "wheel", rim_width_in=6.0, rim_in=15.0, offset=0.0),
        "tyre": maker.make(Tyre, "tyre", size="195/50 R15", loaded_radius=RADIUS),
        "droop": 60.0,
        "bump": 60.0,
        "damper": Damper(lower=eyes[0], upper=eyes[1], lower_on="upright", **cast("Any", damper)),
    }
    corner = maker.make(Corner, "corner", **on_it | dict(fields or {}))
    return Made(maker.document, corner, axle, maker.points)


def _link(maker: _Maker, rod: Rod) -> Link:
    inner = maker.point(f"{rod.name} inner", rod.inner, "chassis")
    outer = maker.point(f"{rod.name} outer", rod.outer, "upright")
    return Link(name=rod.name, inner=inner, outer=outer, outside=25.0)


def _holder(maker: _Maker, held: AxleConstraint) -> Holder:
    match held:
        case Held(name, place):
            return Holder(name=name, how="ball", points=(maker.point(name, place, "chassis"),))
        case Guide(name, point, direction):
            at = (maker.point(name, point, "upright"),)
            return Holder(name=name, how="guide", points=at, direction=_vec(direction))
        case Slide(name, lower, top):
            ends = maker.point(f"{name} low", lower, "upright"), maker.point(name, top, "chassis")
            return Holder(name=name, how="strut", points=ends)
        case _:
            raise AssertionError(held)


def _vec(place: Sequence[float] | Array) -> Vec3:
    x, y, z = (float(value) for value in place)
    return Vec3(x, y, z)
