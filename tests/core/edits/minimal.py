"""A least thing of every kind, with the least of others that it needs, made by the edits."""

from collections.abc import Callable
from typing import Any

from core.document.base import Box, Entity, Ref, Vec3
from core.document.boards import ToeBoard, ToeReading
from core.document.donors import DonorCorner, DonorLink, DonorPoint
from core.document.links import Link, Upright
from core.document.power import Mount, PowerUnit, ServiceZone, Solid
from core.document.project import FIELD_OF, Document
from core.document.records import (
    Acceptance,
    Car,
    CheckLength,
    Lift,
    Limit,
    LoadCase,
    Note,
    Part,
    WayOut,
    Weighing,
)
from core.document.running_gear import (
    Axle,
    Brake,
    BrakeSystem,
    Corner,
    DriveShaft,
    Hub,
    Rack,
    Tyre,
    Wheel,
)
from core.document.steel import (
    Bay,
    Bracket,
    Datum,
    Die,
    Material,
    Panel,
    Point,
    Section,
    Stock,
    Tube,
)
from core.document.surroundings import (
    Controls,
    Exhaust,
    Fastener,
    KeepOut,
    Obstacle,
    Occupant,
    Opening,
    Run,
    Shell,
    Workshop,
)
from core.edits.things import make

AT = Vec3(100.0, 300.0, 50.0)
BOX = Box(low=Vec3(0.0, 100.0, 0.0), high=Vec3(50.0, 200.0, 60.0))


class Maker:
    """Makes things into a document that grows, each of what it refers to once."""

    def __init__(self, document: Document | None = None) -> None:
        self.document = document or Document()

    def make(self, kind: type[Entity], **fields: object) -> Ref:
        name = f"{kind.__name__} {self.document.next_number}"
        self.document, thing = make(self.document, kind, name, **fields)
        return Ref(thing.id)

    def need(self, kind: type[Entity]) -> Ref:
        """One of a kind: the first there is, or a new one."""
        present: tuple[Entity, ...] = getattr(self.document, FIELD_OF[kind])
        return Ref(present[0].id) if present else minimal(self, kind)

    def points(self, count: int) -> tuple[Ref, ...]:
        """New points, one behind another, all to the left of the centre plane."""
        return tuple(
            self.make(Point, at=Vec3(-500.0 * n, 300.0 + 30.0 * n, 80.0)) for n in range(count)
        )


def minimal(maker: Maker, kind: type[Entity]) -> Ref:
    """A new thing of a kind with the least that it needs."""
    return maker.make(kind, **FIELDS[kind](maker))


def _tube(maker: Maker) -> dict[str, Any]:
    start, end = maker.points(2)
    return {"section": maker.need(Section), "start": start, "end": end}


def _panel(maker: Maker) -> dict[str, Any]:
    return {"outline": maker.points(4), "thickness": 1.5, "material": maker.need(Material)}


def _corner(maker: Maker) -> dict[str, Any]:
    inner, outer = maker.points(2)
    face = Upright(hub_face=Vec3(0.0, 650.0, 280.0), spin_axis=Vec3(0.0, 1.0, 0.0))
    link = Link(name="lower", inner=inner, outer=outer, outside=25.0)
    return {"axle": maker.need(Axle), "upright": face, "links": (link,), "hub": maker.need(Hub)}


def _donor(maker: Maker) -> dict[str, Any]:
    del maker
    inner = DonorPoint(role="tie_inner", at=Vec3(110.0, -340.0, -60.0), on="rack")
    outer = DonorPoint(role="tie_outer", at=Vec3(120.0, -80.0, -58.0), on="upright")
    link = DonorLink(name="tie", inner="tie_inner", outer="tie_outer", outside=18.0)
    figures = {"hub_height": 285.0, "camber_deg": -0.5, "toe_in_deg": 0.1}
    return {"end": "front", "side": "left", "points": (inner, outer), "links": (link,), **figures}


def _brake(maker: Maker) -> dict[str, Any]:
    return {
        "axle": maker.need(Axle),
        "disc_diameter": 240.0,
        "effective_radius": 100.0,
        "pistons_one_side": 1,
        "piston_diameter": 48.0,
        "cylinder_diameter": 19.0,
    }


def _unit(maker: Maker) -> dict[str, Any]:
    del maker
    return {"origin": Vec3(-2000.0, 30.0, 320.0), "solids": (Solid(name="block", box=BOX),)}


def _acceptance(maker: Maker) -> dict[str, Any]:
    return {"rule": "unit_gap", "subjects": (maker.need(Tube),), "measured": 8.0, "reason": "seen"}


FIELDS: dict[type[Entity], Callable[[Maker], dict[str, Any]]] = {
    Car: lambda _: {"statement": "two seats"},
    Material: lambda _: {"density_kg_m3": 7850.0},
    Die: lambda _: {"radius": 100.0},
    Section: lambda m: {
        "outside": 30.0,
        "wall": 2.0,
        "material": m.need(Material),
        "die": m.need(Die),
    },
    Stock: lambda m: {"length": 6000.0, "section": m.need(Section)},
    Point: lambda _: {"at": AT},
    Tube: _tube,
    Bracket: lambda m: dict(zip(("carries", "on"), m.points(2), strict=True)),
    Panel: _panel,
    Bay: lambda m: {"outline": m.points(4), "why": "no room"},
    PowerUnit: _unit,
    Mount: lambda m: {"unit": m.need(PowerUnit), "form": "bush", "place": Vec3(10.0, 40.0, 5.0)},
    ServiceZone: lambda m: {"box": BOX, "known": (m.need(Tube),)},
    Axle: lambda m: {"end": "rear", "rack": m.need(Rack), "driven": True},
    Rack: lambda _: {"centre": Vec3(100.0, 0.0, 150.0), "ball_spacing": 560.0},
    Hub: lambda _: {"joint_to_face": 50.0},
    Wheel: lambda _: {"rim_width_in": 6.0, "rim_in": 15.0, "offset": 38.0},
    Tyre: lambda _: {"size": "195/50 R15"},
    Corner: _corner,
    DonorCorner: _donor,
    ToeBoard: lambda m: {
        "corner": m.need(Corner),
        "uncertainty_deg": 0.02,
        "readings": (ToeReading(height=-20.0, toe_in_deg=0.05),),
    },
    DriveShaft: lambda m: {"corner": m.need(Corner), "unit": m.need(PowerUnit), "length": 480.0},
    Brake: _brake,
    BrakeSystem: lambda _: {
        "pad_friction": 0.4,
        "pedal_ratio": 5.0,
        "front_share_of_rod_force": 0.6,
    },
    Shell: lambda _: {"half_width": 800.0},
    Opening: lambda m: {
        "outline": (AT, Vec3(0.0, 300.0, 50.0), Vec3(0.0, 300.0, 90.0)),
        "known": (m.need(Tube),),
    },
    Obstacle: lambda _: {"box": BOX},
    KeepOut: lambda m: {"box": BOX, "known": (m.need(Tube),)},
    Exhaust: lambda _: {"heat_distance": 50.0},
    Run: lambda _: {"outside": 12.0, "bend_radius": 30.0, "points": (AT, Vec3(0.0, 300.0, 50.0))},
    Occupant: lambda _: {"hip_point": Vec3(-900.0, 300.0, 200.0)},
    Controls: lambda _: {"wheel_diameter": 330.0},
    Fastener: lambda m: {
        "thread": "M12",
        "across_flats": 19.0,
        "head_place": Vec3(-1000.0, 400.0, 200.0),
        "tool_from": Vec3(0.0, 0.0, 1.0),
        "hub": m.need(Hub),
    },
    Workshop: lambda _: {"dolly_height": 100.0},
    Datum: lambda m: dict(zip(("origin", "ahead", "aside"), m.points(3), strict=True)),
    Part: lambda m: {"mass_kg": 12.0, "stands_for": m.need(Hub)},
    LoadCase: lambda m: {"without": (m.need(Part),), "acceleration_g": Vec3(0.0, 1.0, 1.0)},
    Weighing: lambda m: {"front_left_kg": 210.0, "load_case": m.need(LoadCase)},
    WayOut: lambda m: {
        "direction": Vec3(0.0, 0.0, -1.0),
        "distance": 900.0,
        "tubes_out": (m.need(Tube),),
    },
    Lift: lambda m: {"stands": m.points(4)},
    CheckLength: lambda m: dict(zip(("start", "end"), m.points(2), strict=True)),
    Limit: lambda m: {"rule": "unit_gap", "value": 9.0, "only_for": m.need(Tube)},
    Acceptance: _acceptance,
    Note: lambda m: {"text": "why", "about": (m.need(Tube),)},
}
