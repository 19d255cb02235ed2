"""Doubled entries of the power unit and its shafts: places in the unit's own frame are kept."""

import math
from collections.abc import Iterator

import numpy as np

from core.geometry.types import unit
from tests.cars.doubled import Doubled, angle_deg, far, mirror, unit_to_car
from tests.cars.neutral import SIDES, Plain, array, driven_end


def doubled_unit(car: Plain) -> Iterator[Doubled]:
    """Every doubled entry of the power unit."""
    unit_entry = car["power_unit"]
    yield Doubled("the unit stands where it is drawn", far(unit_entry["offset_from_design"], 0), 0)
    yield from _outside(unit_entry)
    yield from _weight(car)
    for mount in unit_entry["mounts"]:
        yield from _mount(unit_entry, mount)
    for side in SIDES:
        yield from _shaft(car, side)


def _outside(unit_entry: Plain) -> Iterator[Doubled]:
    """Solids and zones in the unit's frame = their copies in the car's, overall size, crank."""
    for thing in (*unit_entry["boxes"], *unit_entry.get("service_zones", ())):
        for corner in ("min", "max"):
            there = unit_to_car(unit_entry, thing[corner + "_unit"])
            yield Doubled(f"{thing['name']}: unit = car frame", far(there, thing[corner]), 0.01)
    low = np.min([array(b["min_unit"]) for b in unit_entry["boxes"]], axis=0)
    high = np.max([array(b["max_unit"]) for b in unit_entry["boxes"]], axis=0)
    overall = [unit_entry["overall"][name] for name in ("length_x", "width_y", "height_z")]
    yield Doubled("overall size = solids", far(high - low, overall), 0.01)
    crank = unit_entry["crank_axis"]
    face = [crank["x"], unit_entry["bellhousing_face_y"], crank["z"]]
    yield Doubled(
        "crank axis at the face = origin", far(face, unit_to_car(unit_entry, [0] * 3)), 0.01
    )


def _weight(car: Plain) -> Iterator[Doubled]:
    """Mass and centre of gravity of the unit = copies in the car's frame and in the mass list."""
    unit_entry = car["power_unit"]
    there = unit_to_car(unit_entry, unit_entry["cg_unit"])
    yield Doubled("centre of gravity: unit = car frame", far(there, unit_entry["cg"]), 0.01)
    (listed,) = (mass for mass in car["masses"] if mass["id"] == "power_unit_wet")
    mass = abs(listed["mass_kg"] - unit_entry["mass_wet_kg"])
    yield Doubled("mass in the list of masses", mass, 1e-6)
    yield Doubled("centre of gravity in the list", far(listed["cg"], unit_entry["cg"]), 1e-6)
    tensor = array(unit_entry["inertia_kg_m2"]["tensor"])
    yield Doubled("inertia is symmetric", far(tensor, tensor.T), 1e-9)


def _mount(unit_entry: Plain, mount: Plain) -> Iterator[Doubled]:
    """Place of a mount in the unit's frame = its copy; a stay's own x axis = along the stay."""
    is_bush = "bush_unit" in mount
    kept, copy = ("bush_unit", "bush_centre") if is_bush else ("unit_end_unit", "unit_end")
    there = unit_to_car(unit_entry, mount[kept])
    yield Doubled(f"{mount['name']}: unit = car frame", far(there, mount[copy]), 0.01)
    axes = mount["axes_in_unit"]
    if "chassis_end" in mount:
        along = array(mount["chassis_end"]) - there
        own = unit_to_car(unit_entry, axes["x"]) - unit_to_car(unit_entry, [0, 0, 0])
        yield Doubled(f"{mount['name']}: own axis = along the stay", angle_deg(own, along), 0.05)
    square = np.array([axes[name] for name in "xyz"])
    yield Doubled(f"{mount['name']}: own axes square", far(square @ square.T, np.eye(3)), 1e-3)


def _shaft(car: Plain, side: str) -> Iterator[Doubled]:
    """Hub face and depth = outer joint; unit's frame = inner joint; bench readings = length."""
    shaft, end = car["power_unit"]["drive_shafts"][side], driven_end(car)
    upright, hub = car["suspension"][end]["upright"], car["donor_parts"][f"{end}_hub"]
    axis = unit(array(upright["spin_axis"]))
    outer = array(upright["hub_face_centre"]) - axis * hub["outer_joint_to_hub_face"]
    outer = outer if side == "left" else mirror(outer)
    difference = far(outer, shaft["outer_joint_centre"])
    yield Doubled(f"{side} outer joint = hub face - depth", difference, 0.05)
    inner = unit_to_car(car["power_unit"], shaft["inner_joint_unit"])
    difference = far(inner, shaft["inner_joint_centre"])
    yield Doubled(f"{side} inner joint: unit = car frame", difference, 0.01)
    if "bench" in shaft:
        yield from _bench(shaft, hub, side)


def _bench(shaft: Plain, hub: Plain, side: str) -> Iterator[Doubled]:
    """Bench readings = length, stroke, hub seat and gearbox seat."""
    bench = shaft["bench"]
    home, pulled = bench["seat_to_seat_pushed_home"], bench["seat_to_seat_pulled_to_stop"]
    to_inner, to_outer = bench["gearbox_seat_to_inner_centre"], bench["outer_centre_to_hub_seat"]
    length = (home + pulled) / 2 - to_inner - to_outer
    # The +- of the readings are combined as standard uncertainties; the mid has two of them.
    doubt = math.sqrt(
        bench["plus_minus"] ** 2 / 2
        + bench["gearbox_seat_plus_minus"] ** 2
        + bench["hub_seat_plus_minus"] ** 2
    )
    yield Doubled(f"{side} bench length", abs(length - shaft["length_joint_centres"]), doubt)
    stroke = (pulled - home) / 2 - bench["stroke_kept_in_reserve_each_end"]
    limits = shaft["inner_joint_limits"]
    yield Doubled(f"{side} bench stroke", abs(stroke - limits["plunge_out"]), 0.01)
    depth = to_outer + hub["hub_seat_to_hub_face"] - hub["outer_joint_to_hub_face"]
    yield Doubled(f"{side} hub seat depths", abs(depth), 0.05)
    outboard = 1 if side == "left" else -1
    seat = shaft["inner_joint_centre"][1] - outboard * to_inner
    yield Doubled(f"{side} gearbox seat", abs(seat - shaft["gearbox_seat_y"]), 0.05)
