"""Named faults of wheels and links."""

from tests.mutations.mutation import Mutation

CORNERS = (
    "tests/core/suspension/test_made_up_corners.py",
    "tests/core/suspension/test_steering.py",
)
BEAMS, BEAM_RULES = "tests/core/assess/test_beams.py", "tests/core/checks/test_beams.py"

MUTATIONS = (
    Mutation(
        "camber with its sign turned round",
        "core/suspension/wheel.py",
        "return np.asarray(np.degrees(np.arcsin(-own_spin(poses)[..., 2])))",
        "return np.asarray(np.degrees(np.arcsin(own_spin(poses)[..., 2])))",
        ("tests/core/suspension/test_made_up_corners.py::test_every_sample_of_every_curve",),
    ),
    Mutation(
        "projected camber shown for the true one",
        "core/suspension/wheel.py",
        "return np.asarray(np.degrees(np.arcsin(-own_spin(poses)[..., 2])))",
        "return projected_camber_deg(poses)",
        ("tests/core/suspension/test_made_up_corners.py::test_every_sample_of_every_curve",),
    ),
    Mutation(
        "toe of the right-hand wheel not mirrored",
        "core/suspension/linkage.py",
        'return vectors if side == "left" else mirror(vectors)',
        "return vectors",
        (
            "tests/core/suspension/test_corners_of_both_cars.py::test_the_right_hand_corner_reads_the_same",
        ),
    ),
    Mutation(
        "the rack moved the wrong way",
        "core/suspension/aim.py",
        "ends = rods.ends + rack * (rods.on_rack * _LEFT)",
        "ends = rods.ends - rack * (rods.on_rack * _LEFT)",
        ("tests/core/suspension/test_made_up_corners.py::test_every_sample_of_every_curve",),
    ),
    Mutation(
        "a damper on an arm taken to be on the upright",
        "core/suspension/carried.py",
        "    return poses.at(place) if arm is None else arm_poses(poses, arm).at(place)",
        "    return poses.at(place)",
        ("tests/core/suspension/test_corners_of_both_cars.py::test_curves_over_travel",),
    ),
    Mutation(
        "toe of the right-hand wheel with its sign turned round",
        "core/suspension/wheel.py",
        "return np.asarray(np.degrees(np.arctan2(spin[..., 0], spin[..., 1])))",
        "return np.asarray(np.degrees(np.arctan2(spin[..., 0], spin[..., 1])))"
        ' * (1.0 if poses.linkage.side == "left" else -1.0)',
        (
            "tests/core/suspension/test_multibody.py::test_toe_and_camber_of_a_wheel_on_the_right_are_those_of_its_axis",
        ),
    ),
    Mutation(
        "the steer of both wheels signed as that of the left one",
        "core/suspension/steering.py",
        'return -toe if poses.linkage.side == "left" else toe',
        "return -toe",
        (
            "tests/core/suspension/test_corners_of_both_cars.py::test_steer_at_the_used_rack_travel_to_the_left",
        ),
    ),
    Mutation(
        "a rack ahead of the wheels taken for one behind",
        "core/suspension/steering.py",
        'return -toe if poses.linkage.side == "left" else toe',
        'return toe if poses.linkage.side == "left" else -toe',
        (
            "tests/core/suspension/test_steering.py::test_a_rack_ahead_and_one_behind_steer_opposite_ways",
        ),
    ),
    Mutation(
        "the rack lost on the right-hand side",
        "core/suspension/linkage.py",
        "return replace(held, inner=mirror(held.inner), outer=mirror(held.outer))",
        "return replace(held, inner=mirror(held.inner), outer=mirror(held.outer), on_rack=False)",
        (
            "tests/core/suspension/test_multibody.py::test_the_published_wishbones_stand_where_bodies_and_joints_do",
        ),
    ),
    Mutation(
        "a rocker that turns over to its other branch",
        "core/suspension/rocker.py",
        "branch = np.where(square > 0.0, -1.0, 1.0)",
        "branch = np.where(square > 0.0, 1.0, -1.0)",
        (
            "tests/core/suspension/test_rocker.py::test_the_angle_is_that_of_a_general_solver_gone_on_step_by_step",
        ),
    ),
    Mutation(
        "a rocker carried through dead centre",
        "core/suspension/rocker.py",
        "cut = _is_cut_off(poses, rocker, circle) if near.any() else np.zeros_like(lost)",
        "cut = np.zeros_like(lost)",
        (
            "tests/core/suspension/test_rocker.py::test_a_place_behind_dead_centre_is_cut_off_though_the_rod_would_reach",
        ),
    ),
    Mutation(
        "a rate at the wheel without force times change of the ratio",
        "core/suspension/springs.py",
        "np.asarray(found.rate * per_wheel**2 + geometric),",
        "np.asarray(found.rate * per_wheel**2),",
        ("tests/core/suspension/test_springs.py::test_the_geometric_term_of_a_swing_arm",),
    ),
    Mutation(
        "a coil that pulls",
        "core/suspension/springs.py",
        "force = np.maximum(straight, 0.0)",
        "force = straight",
        ("tests/core/suspension/test_springs.py::test_the_rate_is_the_slope_of_the_load",),
    ),
    Mutation(
        "a droop stop that pushes",
        "core/suspension/springs.py",
        "force = force + (-into if stop.is_droop else into) * stop.rate",
        "force = force + into * stop.rate",
        (
            "tests/core/suspension/test_springs.py::test_energy_balances_through_loose_spring_and_stops_too",
        ),
    ),
    Mutation(
        "an anti-roll bar that twists when both wheels rise",
        "core/suspension/bar.py",
        "twist = first.angle_rad - second.angle_rad",
        "twist = first.angle_rad + second.angle_rad",
        (
            "tests/core/suspension/test_bar.py::test_a_bar_that_makes_parallelograms_twists_by_what_the_arms_differ",
        ),
    ),
    Mutation(
        "tyres left out of the roll stiffness",
        "core/suspension/bar.py",
        "gives = gives + sum(1.0 / tyre for tyre in (axle.left_tyre, axle.right_tyre) if tyre)",
        "pass",
        ("tests/core/suspension/test_bar.py::test_roll_of_equal_springs_without_a_bar",),
    ),
    Mutation(
        "a hanging wheel ended by the last of its limits",
        "core/suspension/hanging.py",
        "bump, governs = max(met,",
        "bump, governs = min(met,",
        ("tests/core/suspension/test_hanging.py::test_what_is_met_first_governs",),
    ),
    Mutation(
        "a limit nobody knows taken for none",
        "core/suspension/hanging.py",
        "return past.bump is None and past.looked_to > bump + NEAR",
        "return False",
        (
            "tests/core/suspension/test_hanging.py::test_a_limit_nobody_knows_is_named_and_not_taken_for_none",
        ),
    ),
    Mutation(
        "the ratio of a spring used once, not squared",
        "core/suspension/spring_order.py",
        "(at_wheel - force * damper.ratio_change) / damper.design.per_wheel**2",
        "(at_wheel - force * damper.ratio_change) / damper.design.per_wheel",
        (
            "tests/core/suspension/test_spring_order.py::test_the_ordered_rate_gives_the_wanted_frequency_on_the_tyre",
        ),
    ),
    Mutation(
        "a shim that moves the point the wrong way",
        "core/suspension/changes.py",
        "step = amounts[..., k, None] * change.direction",
        "step = -amounts[..., k, None] * change.direction",
        (
            "tests/core/suspension/test_made.py::test_every_point_off_at_once_stands_where_a_general_solver_puts_it",
        ),
    ),
    Mutation(
        "a rod of a built car cut to fit where its ends came to be",
        "core/suspension/made.py",
        "                drawn.rows.rods.lengths + longer,",
        "                np.linalg.norm(\n"
        "                    upright.rods.arms - chassis.rods.ends, axis=-1, keepdims=True\n"
        "                ) + longer,",
        (
            "tests/core/suspension/test_made.py::test_every_point_off_at_once_stands_where_a_general_solver_puts_it",
        ),
    ),
    Mutation(
        "the steering axis left where it was drawn when its ball moves",
        "core/suspension/changes.py",
        "        axis, lower=lower, upper=axis.upper + _shift_at(",
        "        axis, lower=lower, upper=axis.upper + 0.0 * _shift_at(",
        (
            "tests/core/suspension/test_made.py::test_the_steering_axis_goes_through_the_points_it_is_made_of",
        ),
    ),
    Mutation(
        "an adjuster said to run out by what it was set to",
        "core/suspension/set_up.py",
        "over = zip(task.adjusters, found[count:].tolist(), strict=True)",
        "over = zip(task.adjusters, sums.tolist(), strict=True)",
        (
            "tests/core/suspension/test_set_up.py::test_an_adjuster_that_runs_out_is_told_by_how_much",
        ),
    ),
    Mutation(
        "adjusters moved least from the drawing and not from where they stand",
        "core/suspension/nearest.py",
        "rest = np.concatenate([task.now, np.zeros(count)])",
        "rest = np.zeros(2 * count)",
        (
            "tests/core/suspension/test_set_up.py::test_of_many_ways_the_one_that_moves_least_is_taken",
        ),
    ),
    Mutation(
        "toe given away for camber that cannot be had",
        "core/suspension/nearest.py",
        "eased = [EASED if want.figure in self.eased else 1.0 for want in self.wants]",
        "eased = [1.0 for _ in self.wants]",
        (
            "tests/core/suspension/test_set_up.py::test_toe_is_still_right_where_camber_cannot_be_had",
        ),
    ),
    Mutation(
        "the correction that makes an error twice as large",
        "core/suspension/board.py",
        "return -self.amounts",
        "return self.amounts",
        ("tests/core/suspension/test_board.py",),
    ),
    Mutation(
        "a board taken to read right whatever was said",
        "core/suspension/board.py",
        "offset = mean if self.may_be_off else np.zeros_like(mean)",
        "offset = np.zeros_like(mean)",
        ("tests/core/suspension/test_board.py",),
    ),
    Mutation(
        "the number fitted for the board not taken from the freedom",
        "core/suspension/board.py",
        "freedom = len(board.readings.bumps) - count - int(board.may_be_off)",
        "freedom = len(board.readings.bumps) - count",
        (
            "tests/core/suspension/test_board.py::test_amount_uncertainty_and_chi_square_are_those_of_scipy",
        ),
    ),
    Mutation(
        "half a width taken for a standard deviation",
        "core/suspension/built_cars.py",
        'return self.size if self.kind == "normal" else self.size / np.sqrt(3.0)',
        "return self.size",
        (
            "tests/core/suspension/test_built_cars.py::test_a_toe_link_and_a_ball_off_spread_the_wheel_as_known_by_hand",
        ),
    ),
    Mutation(
        "deviations added up in place of variances",
        "core/suspension/built_cars.py",
        "return np.asarray((self.slopes * deviations) ** 2)",
        "return np.asarray(np.abs(self.slopes * deviations))",
        (
            "tests/core/suspension/test_built_cars.py::test_a_toe_link_and_a_ball_off_spread_the_wheel_as_known_by_hand",
        ),
    ),
    Mutation(
        "adjusters taken to reach as far both ways from the drawing",
        "core/suspension/correctable.py",
        "middles = np.array([0.5 * (each.most + each.least) for each in adjusters])",
        "middles = np.zeros(len(adjusters))",
        (
            "tests/core/suspension/test_built_cars.py::test_what_is_within_reach_is_what_linear_programming_can_reach",
        ),
    ),
    Mutation(
        "travel that is not reached taken to be as wanted",
        "core/suspension/settling.py",
        "lost = np.where(poses.is_reached, 0.0, FAR)",
        "lost = np.where(poses.is_reached, 0.0, 0.0)",
        (
            "tests/core/suspension/test_settling.py::test_all_the_travel_counts_even_where_only_the_middle_is_wanted",
        ),
    ),
    Mutation(
        "a proposal that is called better whatever it brings",
        "core/suspension/settling.py",
        "is_better = cost[1] < cost[0] * (1.0 - BETTER)",
        "is_better = cost[1] <= cost[0]",
        (
            "tests/core/suspension/test_settling.py::test_a_drawing_that_is_right_already_is_left_alone",
        ),
    ),
    Mutation(
        "the body rolled the wrong way against a rigid axle",
        "core/suspension/rigid_axle_travel.py",
        "angle = np.arcsin(axle.lean) - np.radians(",
        "angle = np.arcsin(axle.lean) + np.radians(",
        (
            "tests/core/suspension/test_rigid_axle.py::test_the_left_wheel_goes_down_in_a_body_whose_left_side_is_up",
        ),
    ),
    Mutation(
        "the other wheel of a rigid axle held where it should go too",
        "core/suspension/rigid_axle_poses.py",
        '"heave": (own - other, own + other),',
        '"heave": (own - other, own),',
        ("tests/core/suspension/test_rigid_axle_other_methods.py",),
    ),
    Mutation(
        "the roll centre of a rigid axle below the contacts by as much as it is above",
        "core/suspension/rigid_axle_read.py",
        "middle[..., 2] + speed[..., 1] / turn",
        "middle[..., 2] - speed[..., 1] / turn",
        ("tests/core/suspension/test_rigid_axle.py",),
    ),
    Mutation(
        "the rocker of a Watt's linkage stiff on the axle",
        "core/suspension/slopes.py",
        "    pull = share * along\n",
        "    pull = 0.0 * share * along\n",
        ("tests/core/suspension/test_rigid_axle_other_methods.py",),
    ),
    Mutation(
        "a wheel's travel looked at past what stops it when its limits are looked for",
        "core/suspension/until.py",
        "        return Past(None, float(bumps[-1]))",
        "        return Past(None, 0.0)",
        ("tests/core/suspension/test_hanging.py", "tests/core/suspension/test_damper_travel.py"),
    ),
    Mutation(
        "the other wheel of a rigid axle rising with this one as the body rolls",
        "core/suspension/rigid_axle_wheel.py",
        '"roll": -1.0,',
        '"roll": 1.0,',
        ("tests/core/suspension/test_rigid_axle_wheel.py", BEAMS),
    ),
)
