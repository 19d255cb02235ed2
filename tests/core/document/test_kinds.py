"""What cannot be true of one thing is refused when it is made, in words."""

import re

import msgspec
import pytest

from core.document.lookup import Lookup
from core.document.paths import with_value
from tests.core.document.small_car import small_car

CAR = Lookup(small_car())

REFUSED = [
    ("point1", "at", None, "point K needs either its coordinates or a place along a tube"),
    ("point5", "at", [0, 0, 0], "needs either its coordinates or a place along a tube"),
    ("point5", "carrier", "upright", "follows a tube, so its carrier is the chassis"),
    ("point5", "along.distance", -1.0, "`distance` must not be below zero, as -1 is"),
    ("point6", "joint.direction", [0, 0, 0], "`direction` has no length, so it points nowhere"),
    ("point6", "joint.width", -1.0, "`width` must not be below zero"),
    ("tube1", "end", ["point1", "left"], "tube side rail ends at the joint it starts from"),
    ("tube2", "bends.1.point", ["point2", "left"], "tube hoop passes one joint twice"),
    ("tube2", "bends.0.radius", 0.0, "a bend: `radius` must be above zero, not 0"),
    ("tube1", "fixings", [{"end": "start"}, {"end": "start"}], "two end fixings have the same"),
    ("bracket1", "on", ["point6", "left"], "carries the very thing it stands on"),
    ("bracket1", "thickness", 0.0, "`thickness` must be above zero"),
    ("panel1", "outline", [["point4"]], "needs three or more tube joints round its edge"),
    ("panel1", "thickness", -1.5, "`thickness` must be above zero, not -1.5"),
    ("bay1", "outline", [["point4"], ["point4"], ["point4"]], "round its edge, each once"),
    ("material1", "density_kg_m3", 0.0, "`density_kg_m3` must be above zero"),
    ("section1", "wall", 15.0, "section T30: twice the wall leaves no bore in 30"),
    ("die1", "radius", 0.0, "die die 100: `radius` must be above zero"),
    ("die1", "test_bends.0.left_deg", 0.0, "a test bend: `left_deg` must be above zero"),
    ("stock1", "length", 0.0, "`length` must be above zero"),
    ("stock1", "pieces_in_hand", -1, "`pieces` must not be below zero"),
    ("stock1", "price", -1.0, "`price` must not be below zero"),
    ("datum1", "ahead", ["point11"], "datum table: two points have the same name"),
    ("power_unit1", "mass_kg", 0.0, "`mass_kg` must be above zero"),
    ("power_unit1", "torque_high_nm", -5.0, "`torque_high_nm` must be above zero"),
    ("power_unit1", "gear_ratios", [3.0, 0.0], "`gear_ratios` must be above zero"),
    ("power_unit1", "solids.1.name", "block", "two solids have the same name"),
    ("power_unit1", "inertia.xx", 0.0, "an inertia: `xx` must be above zero"),
    ("power_unit1", "outputs.left_axis", [0, 0, 0], "`left_axis` has no length"),
    ("power_unit1", "mesh.sha256", "A" * 64, "the 64 hexadecimal digits of its SHA-256"),
    ("power_unit1", "axes.x", [0, 0, 0], "unit directions at right angles"),
    ("mount1", "form", "stay", "a stay has a chassis end, a bush has not"),
    ("mount1", "fitted", "hard", "«hard» is fitted but is not one of its inserts"),
    ("mount1", "inserts.soft.stiffness.x", -1.0, "a mount insert: `x` must not be below zero"),
    ("mount1", "stop_gap.z", -1.0, "a stop gap: `z` must not be below zero"),
    ("corner1", "links.lower.outer", ["point6", "left"], "link lower ends where it begins"),
    ("corner1", "links.lower.name", "toe", "two links have the same name"),
    ("corner1", "upright.spin_axis", [0, 0, 0], "`spin_axis` has no length"),
    ("corner1", "droop", -1.0, "`droop` must not be below zero"),
    ("corner1", "damper.closed_length", 460.0, "cannot be 460 closed and 460 open"),
    ("corner1", "adjusters.0.least", 4.0, "an adjuster cannot run from 4 to 3"),
    ("donor_corner1", "hub_height", 0.0, "`hub_height` must be above zero"),
    ("donor_corner1", "track", -1.0, "`track` must be above zero"),
    ("donor_corner1", "camber_deg", 85.0, "no wheel stands at 85 deg of camber"),
    ("donor_corner1", "toe_in_deg", -46.0, "no wheel stands at -46 deg of toe-in"),
    ("donor_corner1", "points.strut_top.role", "lower_outer", "two points have the same name"),
    ("donor_corner1", "points.strut_top.role", "a.b", "a word without full stops"),
    ("donor_corner1", "points.strut_top.role", "7", "a word without full stops"),
    ("donor_corner1", "points.lower_outer.on", "chassis", "which is on the chassis"),
    ("donor_corner1", "links.lower.outer", "lower_inner", "link lower ends where it begins"),
    ("donor_corner1", "links.lower.inner", "pivot", "ends at «pivot», but no point has that role"),
    ("donor_corner1", "links.lower.outside", 0.0, "`outside` must be above zero"),
    ("donor_corner1", "arms", [{"name": "lower", "inner": "lower_inner", "outer": "lower_outer"}],
     "two links have the same name"),
    ("donor_corner1", "points.2", {"role": "damper_lower", "at": [0, 0, 0], "on": "chassis"},
     "the lower eye of a damper is on the upright or on an arm"),
    ("toe_board1", "uncertainty_deg", 0.0, "`uncertainty_deg` must be above zero"),
    ("hub1", "stud_count", 0, "`stud_count` must be above zero"),
    ("wheel1", "rim_in", 0.0, "`rim_in` must be above zero"),
    ("tyre1", "loaded_radius", 0.0, "`loaded_radius` must be above zero"),
    ("rack1", "ball_spacing", 0.0, "`ball_spacing` must be above zero"),
    ("drive_shaft1", "bench.pulled_to_stop", 470.0, "shorter pulled to its stop than pushed home"),
    ("drive_shaft1", "bench.pushed_home", 0.0, "`pushed_home` must be above zero"),
    ("drive_shaft1", "bench.kept_each_end", -1.0, "`kept_each_end` must not be below zero"),
    ("drive_shaft1", "plunge_in", -1.0, "`plunge_in` must not be below zero"),
    ("drive_shaft1", "angle_table.1.plunge", -18.0, "the plunges of the angle table must rise"),
    ("drive_shaft1", "angle_table.1.angle_deg", -1.0, "`angle_deg` must not be below zero"),
    ("brake1", "pistons_one_side", 0, "`pistons_one_side` must be above zero"),
    ("brake_system1", "front_share_of_rod_force", 1.1, "must lie between 0 and 1, not at 1.1"),
    ("brake_system1", "pad_friction_low", 0.0, "`pad_friction_low` must be above zero"),
    ("brake_system1", "handbrake.cable_efficiency", 1.2, "must lie between 0 and 1"),
    ("brake_system1", "handbrake.lever_ratio", 0.0, "`lever_ratio` must be above zero"),
    ("shell1", "roof.half_width", 0.0, "the roof: `half_width` must be above zero"),
    ("shell1", "half_width", -1.0, "`half_width` must be above zero"),
    ("shell1", "arches.0.radius", 0.0, "a wheel arch: `radius` must be above zero"),
    ("shell1", "sills.left sill.height", 0.0, "sill left sill: `height` must be above zero"),
    ("shell1", "sills.left sill.end", [-200, 700, 250], "sill left sill ends where it begins"),
    ("opening1", "outline", [[0, 0, 0], [1, 0, 0]], "opening door needs three or more corners"),
    ("obstacle1", "box", None, "tank needs either a box or a line of two or more points"),
    ("obstacle1", "line", [[0, 0, 0]], "tank needs either a box or a line"),
    ("obstacle1", "litres", 0.0, "`litres` must be above zero"),
    ("obstacle2", "outside", None, "is a line, so it needs its outside diameter"),
    ("obstacle2", "bend_radius", -1.0, "`bend_radius` must not be below zero"),
    ("keep_out1", "box.low.x", 0.0, "low corner below its high corner"),
    ("exhaust1", "heat_distance", -1.0, "`heat_distance` must not be below zero"),
    ("exhaust1", "unit_solids", ["manifold", "manifold"], "two hot solids have the same name"),
    ("run1", "points", [[0, 0, 0]], "run coolant needs two or more points"),
    ("run1", "bend_radius", -1.0, "`bend` must not be below zero"),
    ("occupant1", "helmet_radius", 0.0, "`helmet_radius` must be above zero"),
    ("occupant1", "seat.back_half_thickness", 0.0, "`back_half_thickness` must be above zero"),
    ("occupant1", "seat.back_high", [-1100, -350, 200], "the back of a seat ends where it begins"),
    ("controls1", "pedals.brake.pad_width", 0.0, "pedal brake: `pad_width` must be above zero"),
    ("controls1", "wheel_diameter", 0.0, "`wheel_diameter` must be above zero"),
    ("fastener1", "tool_from", [0, 0, 0], "`tool_from` has no length"),
    ("fastener1", "tool_outside", 0.0, "`tool_outside` must be above zero"),
    ("workshop1", "sockets_in_hand", [13, 0], "`sockets_in_hand` must be above zero"),
    ("workshop1", "across_flats_by_thread.0.across_flats", 0.0, "`across_flats` must be above"),
    ("part1", "mass_kg", -1.0, "`mass_kg` must not be below zero"),
    ("part1", "candidates.small one.price", -1.0, "candidate small one: `price` must not be"),
    ("load_case1", "aboard.0.mass_kg", -1.0, "what is aboard: `mass_kg` must not be below zero"),
    ("load_case1", "without", [["part1"]], "two entries, aboard or left out, have the same name"),
    ("way_out1", "direction", [0, 0, 0], "`direction` has no length"),
    ("way_out1", "distance", -1.0, "`distance` must be above zero"),
    ("lift1", "states", [{"name": "a"}, {"name": "a"}], "two states have the same name"),
    ("check_length1", "end", ["point1", "left"], "runs from a point to itself"),
    ("acceptance1", "reason", " ", "acceptance near the rail needs a reason"),
    ("car", "stations.0.name", "rear axle", "two stations have the same name"),
]  # fmt: skip


@pytest.mark.parametrize(("thing_id", "path", "value", "words"), REFUSED)
def test_what_cannot_be_true_of_one_thing_is_refused(
    thing_id: str, path: str, value: object, words: str
) -> None:
    with pytest.raises(ValueError, match=re.escape(words)):
        with_value(CAR.by_id[thing_id], path, value)


@pytest.mark.parametrize("thing_id", CAR.by_id)
def test_every_thing_of_the_small_car_is_made_anew_from_its_plain_form(thing_id: str) -> None:
    thing = CAR.by_id[thing_id]

    assert msgspec.convert(msgspec.to_builtins(thing), type(thing)) == thing
