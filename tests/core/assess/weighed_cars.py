"""A small car with weights, and changes of it, for tests of weights."""

from typing import Any

import msgspec

from core.document.base import Own, Ref, Vec3
from core.document.layers import replace_thing
from core.document.links import Upright
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.records import Part
from core.document.running_gear import Axle, Corner, Tyre, Wheel
from core.edits.things import make
from tests.cars.stored import empty

ENGINE, DRIVER = (400.0, Vec3(-1800.0, 0.0, 350.0)), (80.0, Vec3(-1000.0, 300.0, 500.0))


def weighed_car() -> Document:
    """Two axles 2000 apart on a track of 1400, an engine and a driver, and nothing else."""
    document = empty()
    document, wheel = make(document, Wheel, "wheel", rim_width_in=6.0, rim_in=15.0, offset=20.0)
    document, tyre = make(
        document, Tyre, "tyre", size="185/60R14", loaded_radius=280.0, vertical_stiffness=200.0
    )
    for end, x in (("front", 0.0), ("rear", -2000.0)):
        document, axle = make(document, Axle, f"{end} axle", end=end)
        upright = Upright(hub_face=Vec3(x, 720.0, 280.0), spin_axis=Vec3(0.0, 1.0, 0.0))
        document, _ = make(
            document,
            Corner,
            f"{end} corner",
            pair=True,
            axle=Ref(axle.id),
            upright=upright,
            wheel=Ref(wheel.id),
            tyre=Ref(tyre.id),
            unsprung_mass_kg=30.0,
        )
    for name, (mass, at) in (("engine", ENGINE), ("driver", DRIVER)):
        document, _ = make(document, Part, name, mass_kg=mass, centre_of_gravity=at)
    return document


def changed(document: Document, label: str, **values: Any) -> Document:  # noqa: ANN401
    """The document with fields of a thing replaced."""
    thing = Lookup(document).by_id[Lookup(document).find(label)[0].id]
    return replace_thing(document, msgspec.structs.replace(thing, **values))


def on_scales(document: Document, kg: dict[str, float]) -> Document:
    """The document with these wheels weighed and no others: «front corner left» and so on."""
    for end in ("front", "rear"):
        left, right = (kg.get(f"{end} corner {side}") for side in ("left", "right"))
        own = (Own(of="weight_kg", value=right),)
        document = changed(document, f"{end} corner left", weight_kg=left, right=own)
    return document
