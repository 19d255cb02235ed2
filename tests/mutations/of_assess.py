"""Named faults of what reads the document and calls the rooms."""

from tests.mutations.mutation import Mutation

CARS = "tests/core/checks/test_both_cars.py"
BEAMS, BEAM_RULES = "tests/core/assess/test_beams.py", "tests/core/checks/test_beams.py"
PIVOTS = "tests/core/assess/test_pivots.py"

MUTATIONS = (
    Mutation(
        "the inside radius of a tube taken for the outside",
        "core/assess/places.py",
        "return read.thing(Section, read.thing(Tube, ref).section).outside / 2",
        "return read.thing(Section, read.thing(Tube, ref).section).outside / 2 - 2.0",
        ("tests/core/checks/test_both_cars.py::test_closest_gaps_and_their_tubes",),
    ),
    Mutation(
        "the unit swept the wrong way on its way out",
        "core/assess/clearance.py",
        "move = unit(np.array(thing.direction, dtype=np.float64)) * thing.distance",
        "move = -unit(np.array(thing.direction, dtype=np.float64)) * thing.distance",
        ("tests/core/study/test_faults.py::test_the_car_without_a_fault_raises_no_alarm",),
    ),
    Mutation(
        "the diameter of the spring taken for its radius",
        "core/assess/moving_parts.py",
        'f"the outside diameter of the spring on {name}") / 2.0',
        'f"the outside diameter of the spring on {name}")',
        ("tests/core/assess/test_moving.py::test_tightest_gaps_of_all_but_the_tyre",),
    ),
    Mutation(
        "the track rod's inner joint left behind by the rack",
        "core/assess/moving_parts.py",
        "inner = inner + rows.rack * np.array([0.0, 1.0, 0.0])",
        "inner = inner + 0.0 * rows.rack",
        ("tests/core/assess/test_moving.py::test_tightest_gaps_of_all_but_the_tyre",),
    ),
    Mutation(
        "a gap looked at between parts with a joint in common",
        "core/assess/moving.py",
        "return not one.joints & other.joints",
        "return one.name != other.name",
        (
            "tests/core/assess/test_moving.py::test_nothing_is_nearer_than_that_check_says_but_what_it_does_not_look_at",
        ),
    ),
    Mutation(
        "a part whose size is not known left out without a word",
        "core/assess/moving_parts.py",
        "            unknown.append(str(error))",
        "            unknown = unknown + [str(error)][:0]",
        (
            "tests/core/assess/test_moving.py::test_a_link_of_unknown_thickness_is_unknown_and_not_assumed",
        ),
    ),
    Mutation(
        "the rack not moving its rod",
        "core/assess/linkages.py",
        "return Rod(link.name, *ends, read.has(Rack, link.inner))",
        "return Rod(link.name, *ends, False)",
        (
            "tests/core/assess/test_curves.py::test_the_steer_of_both_wheels_with_the_rack_at_either_stop",
        ),
    ),
    Mutation(
        "the two arms of a corner taken for each other",
        "core/assess/linkages.py",
        'names: tuple[ArmName, ...] = ("lower arm", "upper arm")',
        'names: tuple[ArmName, ...] = ("upper arm", "lower arm")',
        ("tests/core/assess/test_dampers.py::test_the_lengths_of_both_cars_dampers",),
    ),
    Mutation(
        "a rod on the rack taken for the leg of an arm",
        "core/assess/linkages.py",
        "        if not read.has(Rack, link.inner):\n",
        "        if link.inner != link.outer:\n",
        ("tests/core/assess/test_linkages.py::test_a_rod_on_the_rack_is_no_leg_of_an_arm",),
    ),
    Mutation(
        "a single right-hand corner taken for a left-hand one",
        "core/assess/pairs.py",
        "read.thing(Corner, corner).upright.hub_face.y < 0.0",
        "read.thing(Corner, corner).upright.hub_face.y < -1e9",
        (
            "tests/core/assess/test_linkages.py::test_a_corner_that_is_no_pair_stands_where_its_hub_is",
        ),
    ),
    Mutation(
        "the height of the wheel taken for a radius under load that is given",
        "core/assess/linkages.py",
        "radius = read(wheel_centre, corner).z if given is None else given",
        "radius = read(wheel_centre, corner).z",
        (
            "tests/core/assess/test_linkages.py::test_a_loaded_radius_that_is_not_given_is_the_height_at_which_the_wheel_is_drawn",
        ),
    ),
    Mutation(
        "the top of a strut carried along by the upright",
        "core/assess/linkages.py",
        'SteeringAxis(found["lower arm"].outer, top, "chassis")',
        'SteeringAxis(found["lower arm"].outer, top, "upright")',
        ("tests/core/assess/test_linkages.py::test_the_top_of_a_strut_stays_with_the_chassis",),
    ),
    Mutation(
        "droop taken for bump",
        "core/assess/travels.py",
        "return _both_ways(corner.droop, corner.bump, each_way)",
        "return _both_ways(corner.bump, corner.droop, each_way)",
        (
            "tests/core/assess/test_travels.py::test_a_travel_runs_from_droop_to_bump_with_the_design_among_it",
        ),
    ),
    Mutation(
        "all of a rack's travel used each way",
        "core/assess/travels.py",
        "return thing.total_travel / 2.0",
        "return thing.total_travel",
        (
            "tests/core/assess/test_travels.py::test_the_travel_of_a_rack_is_what_is_used_else_half_of_all",
        ),
    ),
    Mutation(
        "a road of z = 0 under a rolled car whose tyres stand elsewhere",
        "core/assess/travels.py",
        "road = _touching(held) + bump",
        "road = bump",
        ("tests/core/assess/test_travels.py::test_a_rolled_body_keeps_both_tyres_on_the_road",),
    ),
    Mutation(
        "a slope for each mm shown as one for each 10 mm",
        "core/assess/curves.py",
        "return lambda poses: np.asarray(10.0 * slope(poses))",
        "return lambda poses: np.asarray(slope(poses))",
        (
            "tests/core/assess/test_curves.py::test_a_corner_of_its_own_on_two_wishbones_is_that_of_two_other_methods",
        ),
    ),
    Mutation(
        "the tilt of a bolt on the upright seen from the frame",
        "core/assess/tilting.py",
        "        return poses.turned_back(along)\n",
        "        return along\n",
        (
            "tests/core/assess/test_tilts.py::test_every_joint_of_the_demo_car_tilts_as_worked_out_apart",
        ),
    ),
    Mutation(
        "a bolt on an arm that is not there taken for one on the frame",
        "core/assess/tilting.py",
        'if joint.carried_by in ("lower arm", "upper arm"):',
        "if any(each.name == joint.carried_by for each in read(arms, corner)):",
        (
            "tests/core/assess/test_tilts.py::test_a_bolt_on_an_arm_that_is_not_there_is_not_taken_for_one_on_the_frame",
        ),
    ),
    Mutation(
        "the joint at the right ball of a rack not mirrored",
        "core/assess/joints.py",
        "direction=joint.direction._replace(y=-joint.direction.y),",
        "direction=joint.direction,",
        (
            "tests/core/assess/test_tilts.py::test_a_slanted_joint_of_a_rack_slants_the_other_way_at_its_right_ball",
        ),
    ),
    Mutation(
        "the larger of both locks' circles told as the turning circle",
        "core/assess/axles.py",
        "return float(np.nanmin(self.circle))",
        "return float(np.nanmax(self.circle))",
        (
            "tests/core/assess/test_axles.py::test_the_turning_circle_lies_between_those_that_either_wheel_asks_for",
        ),
    ),
    Mutation(
        "the program's own figure for a tilt counted where the builder gave none",
        "core/assess/limits.py",
        "if general is None and not default.counts:",
        "if general is None and default.unit == key:",
        (
            "tests/core/edits/test_limits.py::test_every_limit_of_the_programs_can_be_the_cars_own_and_back",
        ),
    ),
    Mutation(
        "a tube that a part stands for counted twice",
        "core/assess/masses.py",
        "(read(own_weight, ref) for ref in things if ref not in stood_for)",
        "(read(own_weight, ref) for ref in things)",
        ("tests/core/assess/test_weights.py::test_whole_car_at_the_design_load",),
    ),
    Mutation(
        "what is aboard in a load case added to what was aboard",
        "core/assess/weights.py",
        "    mass = instead[item.ref]",
        "    mass = instead[item.ref] + (item.mass_kg or 0.0)",
        (
            "tests/core/assess/test_weights.py::test_load_cases_of_the_demo_car_replace_what_is_aboard",
        ),
    ),
    Mutation(
        "parts left out of a load case left in",
        "core/assess/weights.py",
        "if item.ref not in without]",
        "]",
        ("tests/core/assess/test_weights.py::test_all_five_states_of_the_lift_of_the_demo_car",),
    ),
    Mutation(
        "what is unsprung not taken off",
        "core/assess/weights.py",
        "sprung = read(corner_load, corner) - unsprung",
        "sprung = read(corner_load, corner)",
        ("tests/core/assess/test_weights.py::test_a_wheel_on_scales_goes_before_the_sum",),
    ),
    Mutation(
        "the sum of all weights put before the scales",
        "core/assess/weights.py",
        "return read(summed_load, corner) if found is None else found.kg",
        "return read(summed_load, corner)",
        ("tests/core/assess/test_weights.py::test_a_wheel_on_scales_goes_before_the_sum",),
    ),
    Mutation(
        "loads of the left and right wheels swapped",
        "core/assess/weights.py",
        "front_left, front_right, rear_left, rear_right = corner_loads(",
        "front_right, front_left, rear_right, rear_left = corner_loads(",
        ("tests/core/assess/test_weights.py::test_a_car_of_parts_and_wheels_alone",),
    ),
    Mutation(
        "a part of unknown weight taken for one of none",
        "core/assess/masses.py",
        "    if item.mass_kg is None:",
        "    if False:",
        (
            "tests/core/assess/test_weights.py::test_of_two_parts_for_one_thing_only_one_takes_its_weight",
        ),
    ),
    Mutation(
        "the first weighing counted in place of the last",
        "core/assess/weighing.py",
        "return found[-1] if found else None",
        "return found[0] if found else None",
        ("tests/core/assess/test_weighing.py::test_the_last_weighing_in_a_load_counts",),
    ),
    Mutation(
        "a weighing in a load case taken for the design load's",
        "core/assess/weighing.py",
        " if read.thing(Weighing, ref).load_case == case]",
        "]",
        ("tests/core/assess/test_weighing.py::test_the_last_weighing_in_a_load_counts",),
    ),
    Mutation(
        "the height by tilting left aside",
        "core/assess/on_wheels.py",
        'return found.height, "", True',
        'return read(summed_height, case), "", True',
        (
            "tests/core/assess/test_weighing.py::test_the_tilted_height_replaces_the_sum_s_for_the_brakes_too",
        ),
    ),
    Mutation(
        "the height taken from the drawing's zero and not from the ground",
        "core/assess/on_wheels.py",
        "return whole(weight)[1].z - read(ground_height)",
        "return whole(weight)[1].z",
        (
            "tests/core/assess/test_weighing.py::test_a_car_is_as_high_over_the_ground_wherever_it_is_drawn",
        ),
    ),
    Mutation(
        "what is unsprung counted as leaning with the body",
        "core/assess/transfer.py",
        "    sprung = found.mass_kg - sum(each.kg for each in loose.values())",
        "    sprung, moment = found.mass_kg, 0.0",
        ("tests/core/assess/test_transfer.py::test_what_moves_in_a_corner_holds_the_whole_car_up",),
    ),
    Mutation(
        "the wheel with most to spare said to lift first",
        "core/assess/transfer.py",
        "first = min(lifts, key=lifts.__getitem__)",
        "first = max(lifts, key=lifts.__getitem__)",
        (
            "tests/core/assess/test_transfer.py::test_the_wheel_that_lifts_first_is_the_one_with_least_to_spare",
        ),
    ),
    Mutation(
        "a wheelbase said to grow where the rear wheel goes ahead",
        "core/assess/adjusters.py",
        'WHEELBASE = {"front": 1.0, "rear": -1.0}',
        'WHEELBASE = {"front": 1.0, "rear": 1.0}',
        (
            "tests/core/assess/test_adjusters.py::test_what_one_step_does_is_what_scipy_finds_from_longer_rods",
        ),
    ),
    Mutation(
        "shims that push their point inward",
        "core/assess/adjusters.py",
        "along = [unit(np.asarray(rod.outer) - np.asarray(rod.inner)) for rod in rods]",
        "along = [unit(np.asarray(rod.inner) - np.asarray(rod.outer)) for rod in rods]",
        (
            "tests/core/assess/test_adjusters.py::test_shims_move_their_point_outward_along_its_links_or_as_entered",
        ),
    ),
    Mutation(
        "a rod end set by any part of a turn",
        "core/assess/adjusters.py",
        "HALF_A_TURN = 0.5",
        "HALF_A_TURN = 0.0",
        (
            "tests/core/assess/test_adjusters.py::test_half_turns_alone_can_be_set_on_rod_ends_and_any_turn_on_the_rack",
        ),
    ),
    Mutation(
        "thread that goes further in as a link gets longer",
        "core/assess/setting_up.py",
        "return drawn - OUT_OF_EACH_THREAD.get(",
        "return drawn + OUT_OF_EACH_THREAD.get(",
        (
            "tests/core/assess/test_adjusters.py::test_a_thread_comes_out_by_what_the_link_gets_longer_and_of_a_turnbuckle_by_half",
        ),
    ),
    Mutation(
        "a turnbuckle taken for one thread",
        "core/assess/setting_up.py",
        '"turnbuckle": 0.5}',
        '"turnbuckle": 1.0}',
        (
            "tests/core/assess/test_adjusters.py::test_a_thread_comes_out_by_what_the_link_gets_longer_and_of_a_turnbuckle_by_half",
        ),
    ),
    Mutation(
        "a range that runs out said to have some left",
        "core/assess/setting_up.py",
        "            return -abs(self.lacking)",
        "            return abs(self.lacking)",
        (
            "tests/core/assess/test_adjusters.py::test_the_one_that_runs_out_is_named_with_what_it_lacks",
        ),
    ),
    Mutation(
        "a toe board of the right wheel read as of the left",
        "core/assess/boards.py",
        'outboard = 1.0 if stands_on(read, corner) == "left" else -1.0',
        "outboard = 1.0",
        (
            "tests/core/assess/test_boards.py::test_a_bracket_on_the_right_is_told_of_the_right_and_outboard_is_to_the_right",
        ),
    ),
    Mutation(
        "a correction in shims that makes a height twice as wrong",
        "core/assess/boards.py",
        "steps = fitted.room.units(-off * per_mm)",
        "steps = fitted.room.units(off * per_mm)",
        (
            "tests/core/assess/test_boards.py::test_a_length_that_is_off_is_told_in_turns_of_the_adjuster_that_sets_it",
        ),
    ),
    Mutation(
        "two readings at three times one height taken for three",
        "core/assess/boards.py",
        "different = len(np.unique(heights))",
        "different = len(heights)",
        ("tests/core/assess/test_boards.py",),
    ),
    Mutation(
        "the seats of a spring counted as part of it",
        "core/assess/spring_lengths.py",
        'design, by = over.design.length - damper.spring_seats, "seats"',
        'design, by = over.design.length, "seats"',
        (
            "tests/core/assess/test_spring_lengths.py::test_the_room_between_the_seats_is_what_the_damper_leaves",
        ),
    ),
    Mutation(
        "a spring's force known from its lengths not reckoned with",
        "core/assess/springs.py",
        "        return Carried(force, by=LENGTHS)\n    try:",
        "        return Carried()\n    try:",
        (
            "tests/core/assess/test_springs.py::test_the_demo_cars_load_and_rate_are_the_slopes_of_the_energy_in_its_spring",
        ),
    ),
    Mutation(
        "all of the load laid on a torsion bar beside a coil",
        "core/assess/springs.py",
        "        load -= force * read(damper_ratio, corner)",
        "        load -= 0.0",
        (
            "tests/core/assess/test_springs.py::test_a_coil_beside_a_torsion_bar_leaves_it_the_rest_of_the_load",
        ),
    ),
    Mutation(
        "a bump stop met when the damper is as long as the stop",
        "core/assess/spring_parts.py",
        "Stop(damper.closed_length + stop.length, stop.rate)",
        "Stop(stop.length, stop.rate)",
        ("tests/core/assess/test_springs.py::test_a_bump_stop_adds_its_rate_once_it_is_met",),
    ),
    Mutation(
        "a torsion bar's rate for each degree taken for one a radian",
        "core/assess/springs.py",
        "rate * NMM_PER_RAD * turn_per_bump_rad(poses, turns_with) ** 2",
        "rate * turn_per_bump_rad(poses, turns_with) ** 2",
        (
            "tests/core/assess/test_springs.py::test_a_torsion_bar_on_a_level_arm_carries_by_its_torque",
        ),
    ),
    Mutation(
        "the body said to stand low where its springs are too strong",
        "core/assess/springs.py",
        "off = (springs.load - load) / springs.rate",
        "off = (load - springs.load) / springs.rate",
        ("tests/core/assess/test_springs.py::test_a_spring_too_long_makes_the_car_stand_high",),
    ),
    Mutation(
        "both drop links of a bar on the left",
        "core/assess/bars.py",
        "        return array(read(place, ref.mirrored()))",
        "        return array(read(place, ref))",
        (
            "tests/core/assess/test_bars.py::test_the_bars_rate_at_one_wheel_is_the_slope_of_its_energy",
        ),
    ),
    Mutation(
        "a bar's rate counted once in roll",
        "core/assess/bars.py",
        "whole = float(roll_stiffness_nm_per_deg(held, bar))",
        "whole = float(roll_stiffness_nm_per_deg(held, bar / 2.0 if has_bar else None))",
        ("tests/core/assess/test_bars.py::test_a_bar_adds_its_rate_to_what_holds_the_body_up",),
    ),
    Mutation(
        "a joint of unknown limit taken for none when a wheel hangs",
        "core/assess/hanging.py",
        "found.not_known, has_shaft)",
        "(), has_shaft)",
        (
            "tests/core/assess/test_hanging_wheels.py::test_a_joint_whose_limit_is_not_known_is_named",
        ),
    ),
    Mutation(
        "springs on a rigid axle taken for as stiff in roll as they are as both wheels rise",
        "core/assess/spring_parts.py",
        'return solved(replace(held, drive="roll"), at(0.0), read.label(corner))',
        "return read(pose_at_design, corner)",
        (
            "tests/core/assess/test_beams.py::test_springs_inboard_of_the_wheels_hold_the_body_up_by_their_own_distance",
        ),
    ),
    Mutation(
        "joints and gaps of a rigid axle looked at with both wheels alike alone",
        "core/assess/travels.py",
        "return solved(held, apart(bumps[:, None], others), name)",
        "return solved(held, apart(bumps[:, None], bumps[:, None] + 0.0 * others), name)",
        (
            "tests/core/assess/test_beams.py::test_for_gaps_and_joints_each_wheel_goes_everywhere_while_the_other_does",
        ),
    ),
    Mutation(
        "the roll centre of a rigid axle read as both wheels rise",
        "core/assess/axles.py",
        "    if read(is_rigid, axle):\n        return _of_beam(read, axle)\n",
        "",
        (
            "tests/core/assess/test_beams.py::test_the_roll_centre_of_a_panhard_rod_is_where_it_crosses_the_centre_plane",
        ),
    ),
    Mutation(
        "links of a rigid axle told at both its wheels",
        "core/assess/moving_parts.py",
        "names if _tells_of_beam(read, corner) is False else frozenset(),",
        "frozenset(),",
        (
            "tests/core/checks/test_beams.py::test_a_link_of_the_axle_near_a_tube_is_told_once_and_as_the_axles",
        ),
    ),
    Mutation(
        "links of a corner on a rigid axle taken no notice of",
        "core/assess/beams.py",
        "if is_own or thing.links or thing.arms or thing.holders:",
        "if is_own or thing.arms or thing.holders:",
        (BEAMS,),
    ),
    Mutation(
        "what a bolt is off the line of its hinge not counted",
        "core/assess/tilting.py",
        "        return _along(line, unit(array(joint.direction)))",
        "        return _along(line, line)",
        (
            "tests/core/assess/test_pivots.py::test_a_bolt_in_a_hinge_tilts_by_what_it_is_off_the_line",
        ),
    ),
    Mutation(
        "a strut of the builder's own without its castor",
        "core/assess/linkages.py",
        'struts = [held for held in thing.holders if held.how == "strut"]',
        'struts = [held for held in thing.holders if held.how == "none"]',
        (
            "tests/core/assess/test_pivots.py::test_a_strut_of_ones_own_has_the_castor_of_one_by_role",
        ),
    ),
    Mutation(
        "products of inertia of the other sign",
        "core/assess/mounts.py",
        "[given.xx, given.xy, given.xz],\n            [given.xy, given.yy, given.yz],\n"
        "            [given.xz, given.yz, given.zz],",
        "[given.xx, -given.xy, -given.xz],\n            [-given.xy, given.yy, -given.yz],\n"
        "            [-given.xz, -given.yz, given.zz],",
        ("tests/core/assess/test_mounts.py::test_frequencies_roll_axis_and_sag",),
    ),
    Mutation(
        "the engine pushed the way the car is",
        "core/assess/mount_moves.py",
        "push = -np.array(load.acceleration_g) * GRAVITY",
        "push = np.array(load.acceleration_g) * GRAVITY",
        ("tests/core/assess/test_mounts.py::test_moves_turns_and_forces_of_each_load",),
    ),
    Mutation(
        "the gap of the moved engine measured where it rests",
        "core/assess/mount_moves.py",
        "return gaps_in_place(read, at, ",
        "return gaps_in_place(read, hung, ",
        ("tests/core/assess/test_mounts.py::test_least_gap_moved_by_each_load",),
    ),
    Mutation(
        "a tube left out that the moved engine reaches",
        "core/assess/mount_moves.py",
        "wanted = max(rest[0].gap + moves, read(widest_gap_wanted)) + moves",
        "wanted = rest[0].gap - moves",
        ("tests/core/assess/test_mounts.py::test_least_gap_moved_by_each_load",),
    ),
    Mutation(
        "the shaft of a driven wheel held by its links",
        "core/assess/loads.py",
        "    if load.is_pulled:",
        "    if load.is_pulled is None:",
        (
            "tests/core/assess/test_loads.py::test_a_wheel_that_is_pulled_by_its_shaft_has_no_moment_about_its_axis",
        ),
    ),
    Mutation(
        "what is unsprung left on the spring",
        "core/assess/loads.py",
        "    total[:3] += load.unsprung",
        "    total[:3] += 0.0 * load.unsprung",
        (
            "tests/core/assess/test_loads.py::test_forces_in_links_and_damper_do_the_work_of_the_load",
        ),
    ),
    Mutation(
        "the force on the upright told for that on the chassis",
        "core/assess/loads.py",
        "(ref, -force(solved, key)) for p in held.pieces for ref, key in p.seats",
        "(ref, force(solved, key)) for p in held.pieces for ref, key in p.seats",
        ("tests/core/assess/test_loads.py::test_what_is_told_of_the_chassis_is_all_that_comes_in",),
    ),
    Mutation(
        "the drop link pulling where the bar pushes",
        "core/assess/bar_loads.py",
        "return -carried / self.per_bump",
        "return carried / self.per_bump",
        ("tests/core/assess/test_loads.py::test_what_a_bar_carries_is_taken_off_the_damper",),
    ),
)
