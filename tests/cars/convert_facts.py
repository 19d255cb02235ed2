"""Where the figures of a neutral file come from, put on the things that hold them."""

from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

import msgspec

from core.document.base import Because, Entity, Fact, Ref, Side, Source
from core.document.project import KINDS, Document
from tests.cars.convert_names import unit_name
from tests.cars.neutral import (
    ENDS,
    SIDES,
    ConversionError,
    Plain,
    driven_end,
    fits,
    number_or_none,
)
from tests.cars.pairs import Names

STATES: dict[str, Source] = {
    "in hand": "in_hand",
    "measured": "measured",
    "chosen": "chosen",
    "guessed": "guessed",
}

FIGURES_WORKED_OUT = {
    "power_unit.drive_shafts.*.inner_joint_centre": "copy of inner_joint_unit in the car's frame",
    "power_unit.drive_shafts.*.outer_joint_centre": "follows from the hub face and its depth",
    "power_unit.drive_shafts.*.gearbox_seat_y": "follows from the inner joint and the bench",
    "masses.1": "the mass of the power unit is kept with the unit, with its own source",
}
"""Sources of figures that are not kept, because others give them, and why."""


class Target(NamedTuple):
    """One branch of one thing: its kind's list, its name, the side and the path."""

    field: str
    name: str
    of: str = ""
    side: Side = "one"


UNIT_FIELDS = {
    "mass_wet_kg": ("mass_kg",),
    "cg_unit": ("centre_of_gravity",),
    "inertia_kg_m2": ("inertia",),
    "boxes": ("solids",),
    "gear_ratios": ("gear_ratios",),
    "final_drive": ("final_drive",),
    "reverse_ratio": ("reverse_ratio",),
    "torque_max_Nm": ("torque_nm",),
    "torque_range_Nm": ("torque_low_nm", "torque_high_nm"),
    "power_max_kW": ("power_kw",),
    "clutch": ("clutch_factor",),
}
SHAFT_FIELDS = {
    "bench": "bench",
    "length_joint_centres": "length",
    "yield_MPa": "yield_mpa",
    "inner_joint_limits.angle_deg": "inner_angle_deg",
    "outer_joint_limits": "outer_angle_deg",
}
HUB_FIELDS = {
    "pcd": "stud_circle",
    "spigot_diameter": "spigot",
    "outer_joint_to_hub_face": "joint_to_face",
    "hub_seat_to_hub_face": "seat_to_face",
    "hub_nut_torque_Nm": "nut_torque_nm",
}
RACK_FIELDS = {
    "centre": "centre",
    "used_travel_each_way": "used_each_way",
    "inner_ball_spacing": "ball_spacing",
    "total_travel": "total_travel",
}
TYRE_FIELDS = {"k_vert_N_per_mm": "vertical_stiffness", "loaded_radius": "loaded_radius"}
BRAKE_FIELDS = ("disc_diameter", "piston_diameter", "effective_radius")
SYSTEM_FIELDS = {
    "pad_friction": ("pad_friction", "pad_friction_low", "pad_friction_high"),
    "pedal_ratio": ("pedal_ratio",),
    "pedal_balance_front_share": ("front_share_of_rod_force",),
    "handbrake": ("handbrake",),
}
CORNER_FIELDS = {
    "damper": "damper",
    "damper.spring_rate_N_per_mm": "damper.spring_rate",
    "unsprung_mass_per_corner_kg": "unsprung_mass_kg",
}
EXHAUST_FIELDS = ("heat_distance", "heat_distance_with_shield")


def with_facts(document: Document, car: Plain, names: Names) -> Document:
    """The document with the sources of the file as facts on its things.

    Raises:
        ConversionError: a source names what is not known.
    """
    facts: dict[tuple[str, str], list[Fact]] = defaultdict(list)
    for target, fact in _facts(car):
        facts[target.field, target.name].append(fact)
    held = _held_width(car, names)
    if held is not None:
        facts["corners", f"{driven_end(car)} corner"].append(held)
    changed = {
        field: tuple(_with(thing, facts.pop((field, thing.name), [])) for thing in things)
        for field in KINDS
        if (things := getattr(document, field))
    }
    if facts:
        msg = f"sources name things that are not there: {sorted(facts)}"
        raise ConversionError(msg)
    return msgspec.structs.replace(document, **changed)


def _with(thing: Entity, facts: list[Fact]) -> Entity:
    return msgspec.structs.replace(thing, facts=tuple(_both_sides(facts))) if facts else thing


def _both_sides(facts: list[Fact]) -> Iterator[Fact]:
    """Facts that are the same on the left and on the right said once, for the pair."""
    for fact in facts:
        other = msgspec.structs.replace(fact, side="right")
        if fact.side == "left" and other in facts:
            yield msgspec.structs.replace(fact, side="one")
        elif fact.side != "right" or msgspec.structs.replace(fact, side="left") not in facts:
            yield fact


def _facts(car: Plain) -> Iterator[tuple[Target, Fact]]:
    known = dict(_targets(car))
    for entry in car.get("sources", {}).get("list", ()):
        if worked_out(entry["path"]) is not None:
            continue
        if entry["path"] not in known:
            msg = f"source of «{entry['path']}»: it is not known where that figure is kept"
            raise ConversionError(msg)
        for target in known[entry["path"]]:
            yield target, _fact(entry, target)


def _fact(entry: Plain, target: Target) -> Fact:
    # The data set combines its +- in quadrature, so each is taken for a standard uncertainty.
    return Fact(
        of=target.of,
        side=target.side,
        source=STATES[entry["state"]],
        uncertainty=number_or_none(entry.get("plus_minus")),
        how=entry["how"],
    )


def worked_out(path: str) -> str | None:
    """Why the source of a figure is not kept; none if it is."""
    reasons = (why for pattern, why in FIGURES_WORKED_OUT.items() if fits(pattern, path, "."))
    return next(reasons, None)


def _targets(car: Plain) -> Iterator[tuple[str, list[Target]]]:
    """Every path a source may have, and the branches that hold its figures."""
    yield from _bought()
    yield from _unit(car)
    yield from _driveline(car)
    for end in ENDS:
        for entry, of in CORNER_FIELDS.items():
            yield f"suspension.{end}.{entry}", [Target("corners", f"{end} corner", of)]
    for count, mass in enumerate(car["masses"]):
        yield f"masses.{count}", [Target("parts", mass["id"])]
    for entry in EXHAUST_FIELDS:
        yield f"exhaust.{entry}", [Target("exhausts", "exhaust", entry)]


def _bought() -> Iterator[tuple[str, list[Target]]]:
    rack = Target("racks", "steering_rack")
    hubs = [Target("hubs", f"{end}_hub") for end in ENDS]
    yield "wheels", [Target("wheels", f"{end} wheel") for end in ENDS]
    yield "donor_parts", [*hubs, rack]
    for entry, of in RACK_FIELDS.items():
        yield f"donor_parts.steering_rack.{entry}", [rack._replace(of=of)]
    yield "donor_parts.steering_rack.feet", [Target("points", "rack_foot")]
    for end in ENDS:
        yield f"wheels.{end}.et", [Target("wheels", f"{end} wheel", "offset")]
        yield f"tyres.{end}", [Target("tyres", f"{end} tyre")]
        for entry, of in TYRE_FIELDS.items():
            yield f"tyres.{end}.{entry}", [Target("tyres", f"{end} tyre", of)]
        for entry, of in HUB_FIELDS.items():
            yield f"donor_parts.{end}_hub.{entry}", [Target("hubs", f"{end}_hub", of)]


def _unit(car: Plain) -> Iterator[tuple[str, list[Target]]]:
    unit = unit_name(car)
    for entry, fields in UNIT_FIELDS.items():
        yield f"power_unit.{entry}", [Target("power_units", unit, of) for of in fields]
    mounts = [mount["name"] for mount in car["power_unit"]["mounts"]]
    yield "power_unit.mounts", [Target("mounts", name) for name in mounts]
    for count, name in enumerate(mounts):
        for of in ("inserts", "stop_gap"):
            yield f"power_unit.mounts.{count}.{of}", [Target("mounts", name, of)]


def _driveline(car: Plain) -> Iterator[tuple[str, list[Target]]]:
    sides: dict[str, Side] = {"left": "left", "right": "right"}
    for side in SIDES:
        path = f"power_unit.drive_shafts.{side}"
        shaft = Target("drive_shafts", "drive_shaft", side=sides[side])
        yield path, [shaft]
        yield (
            f"{path}.inner_joint_unit",
            [Target("power_units", unit_name(car), f"outputs.{side}")],
        )
        for entry, of in SHAFT_FIELDS.items():
            yield f"{path}.{entry}", [shaft._replace(of=of)]
    for end in ENDS:
        yield f"brakes.{end}", [Target("brakes", f"{end} brakes")]
        for of in BRAKE_FIELDS:
            yield f"brakes.{end}.{of}", [Target("brakes", f"{end} brakes", of)]
    for entry, fields in SYSTEM_FIELDS.items():
        yield f"brakes.{entry}", [Target("brake_systems", "brakes", of) for of in fields]
    states = car.get("brakes", {}).get("load_states", ())
    yield "brakes.load_states", [Target("load_cases", state["name"]) for state in states]


def _held_width(car: Plain, names: Names) -> Fact | None:
    """The hold on the driven hub face, where the file says that the shafts decide the width."""
    if not car["vehicle"].get("design_note", "").startswith(f"{driven_end(car)} track is a result"):
        return None
    shafts = [names.ref("drive_shaft", f"drive_shaft_{side}") for side in "LR"]
    hub = names.ref("hub", f"{driven_end(car)}_hub")
    unit = names.ref("power_unit", unit_name(car))
    return Fact(
        of="upright.hub_face.y",
        source="chosen",
        how=car["vehicle"]["design_note"],
        held="the drive shafts decide the width",
        because=tuple(Because(ref=ref, of=of) for ref, of in _reasons(shafts, hub, unit)),
    )


def _reasons(shafts: list[Ref], hub: Ref, unit: Ref) -> Iterator[tuple[Ref, str]]:
    for shaft in shafts:
        yield shaft, "length"
    yield hub, "joint_to_face"
    yield unit, "outputs"
