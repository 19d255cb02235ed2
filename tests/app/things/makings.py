"""The least that each kind of thing can be made of, and things for it to rest on."""

from core.document.base import Box, Entity, Ref, Vec3
from core.document.links import Upright
from core.document.power import Mount, PowerUnit
from core.document.project import KINDS, Document
from core.document.records import Part
from core.document.running_gear import Axle, Corner, Hub
from core.document.steel import Material, Point, Section, Tube
from core.edits.things import make

ORIGIN = Vec3(0.0, 0.0, 0.0)
CUBE = Box(low=Vec3(-10.0, 20.0, 0.0), high=Vec3(10.0, 40.0, 20.0))
UP = Vec3(0.0, 0.0, 1.0)


class Ground:
    """A car with one of each thing that others must name."""

    def __init__(self, document: Document) -> None:
        """Put the things in."""
        self.document = document
        self.a = self._put(Point, "A", at=Vec3(0.0, 0.0, 0.0))
        self.b = self._put(Point, "B", at=Vec3(100.0, 0.0, 0.0))
        self.c = self._put(Point, "C", at=Vec3(0.0, 0.0, 100.0))
        self.material = self._put(Material, "steel", density_kg_m3=7850.0)
        self.section = self._put(Section, "T", outside=25.0, wall=2.0, material=self.material)
        self.tube = self._put(Tube, "ground tube", section=self.section, start=self.a, end=self.b)
        self.unit = self._put(PowerUnit, "engine", origin=ORIGIN)
        self.mount = self._put(Mount, "ground mount", unit=self.unit, form="bush", place=ORIGIN)
        self.axle = self._put(Axle, "ground axle", end="rear")
        self.hub = self._put(Hub, "ground hub")
        upright = Upright(hub_face=Vec3(0.0, 700.0, 300.0), spin_axis=Vec3(0.0, 1.0, 0.0))
        self.corner = self._put(Corner, "ground corner", axle=self.axle, upright=upright)
        self.part = self._put(Part, "ground part")

    def _put(self, kind: type[Entity], name: str, **fields: object) -> Ref:
        self.document, thing = make(self.document, kind, name, **fields)
        return Ref(thing.id)


def least_fields(ground: Ground, field: str) -> dict[str, object]:
    """The values that a thing of a kind cannot be without."""
    corner: dict[str, object] = {
        "axle": ground.axle,
        "upright": Upright(hub_face=Vec3(0.0, 700.0, 300.0), spin_axis=Vec3(0.0, 1.0, 0.0)),
    }
    outline = (ground.a, ground.b, ground.c)
    known: dict[str, dict[str, object]] = {
        "materials": {"density_kg_m3": 2700.0},
        "dies": {"radius": 75.0},
        "sections": {"outside": 30.0, "wall": 2.0, "material": ground.material},
        "stocks": {"length": 6000.0},
        "points": {"at": Vec3(1.0, 250.0, 3.0)},
        "tubes": {"section": ground.section, "start": ground.b, "end": ground.c},
        "brackets": {"carries": ground.a, "on": ground.b},
        "panels": {"outline": outline, "thickness": 1.5, "material": ground.material},
        "bays": {"outline": outline, "why": "the shaft passes"},
        "power_units": {"origin": ORIGIN},
        "mounts": {"unit": ground.unit, "form": "bush", "place": Vec3(1.0, 30.0, 2.0)},
        "service_zones": {"box": CUBE},
        "axles": {"end": "front"},
        "racks": {"centre": ORIGIN, "ball_spacing": 600.0},
        "wheels": {"rim_width_in": 6.5, "rim_in": 15.0, "offset": 20.0},
        "tyres": {"size": "205/50R15"},
        "corners": corner,
        "donor_corners": {"end": "front", "side": "left"},
        "toe_boards": {"corner": ground.corner},
        "drive_shafts": {"corner": ground.corner, "unit": ground.unit},
        "brakes": {
            "axle": ground.axle,
            "disc_diameter": 260.0,
            "effective_radius": 110.0,
            "pistons_one_side": 1,
            "piston_diameter": 48.0,
            "cylinder_diameter": 19.0,
        },
        "brake_systems": {
            "pad_friction": 0.4,
            "pedal_ratio": 5.0,
            "front_share_of_rod_force": 0.5,
        },
        "openings": {"outline": (Vec3(0, 400, 0), Vec3(100, 400, 0), Vec3(0, 400, 100))},
        "obstacles": {"box": CUBE},
        "keep_outs": {"box": CUBE},
        "runs": {
            "outside": 10.0,
            "bend_radius": 30.0,
            "points": (Vec3(0, 50, 0), Vec3(100, 50, 0)),
        },
        "occupants": {"hip_point": Vec3(-900.0, 300.0, 250.0)},
        "fasteners": {
            "thread": "M10",
            "across_flats": 17.0,
            "head_place": Vec3(0.0, 20.0, 0.0),
            "tool_from": UP,
        },
        "datums": {"origin": ground.a, "ahead": ground.b, "aside": ground.c},
        "ways_out": {"direction": Vec3(0.0, 0.0, -1.0), "distance": 600.0},
        "lifts": {"stands": (ground.a,)},
        "check_lengths": {"start": ground.a, "end": ground.c},
        "limits": {"rule": "unit_gap", "value": 12.0},
        "acceptances": {"rule": "unit_gap", "subjects": (ground.tube,), "reason": "on purpose"},
        "notes": {"text": "why it is so"},
    }
    assert set(known) <= set(KINDS)
    return known.get(field, {})
