"""Named faults of document, edits, studies, scene and tables."""

from tests.mutations.mutation import Mutation

CARS = "tests/core/checks/test_both_cars.py"
POSED = "tests/core/scene/test_posed.py"

MUTATIONS = (
    Mutation(
        "the right-hand piece not mirrored",
        "core/document/sides.py",
        "return Vec3(place.x, -place.y + 0.0, place.z)",
        "return Vec3(place.x, place.y + 0.0, place.z)",
        (
            "tests/core/checks/test_both_cars.py::test_demo_car_has_nothing_open_that_fails_or_is_unknown",
        ),
    ),
    Mutation(
        "a read that is not written down",
        "core/engine/view.py",
        "        self._note(FieldKey(self._ref, path), value)",
        "        pass",
        (
            "tests/core/engine/test_assess.py::test_a_change_runs_what_read_the_value_and_what_follows_from_it",
        ),
    ),
    Mutation(
        "a held number that moves all the same",
        "core/document/facts.py",
        'if fact.source in ("in_hand", "measured"):',
        'if fact.source == "in_hand":',
        ("tests/core/edits/test_donor.py::test_what_was_measured_holds_until_it_is_set_free",),
    ),
    Mutation(
        "an acceptance that never opens again",
        "core/engine/finding.py",
        "return (step if finding.higher_is_worse else -step) > WORSE_BY",
        "return False",
        ("tests/core/edits/test_acceptances.py::test_it_opens_again_when_the_figure_gets_worse",),
    ),
    Mutation(
        "a donor turned end for end mirrored across the car and not turned",
        "core/edits/donor_places.py",
        "return Vec3(0.0 - place.x, place.y, place.z)",
        "return Vec3(0.0 - place.x, 0.0 - place.y, place.z)",
        ("tests/core/edits/test_donor.py::test_a_part_is_turned_and_never_mirrored",),
    ),
    Mutation(
        "a donor's hub kept at its own height",
        "core/edits/donor_asked.py",
        "return Vec3(at.x, at.outboard, radius + (offset or 0.0) * spin.z)",
        "return Vec3(at.x, at.outboard, (282.0 if radius else 0.0) + (offset or 0.0) * spin.z)",
        (
            "tests/core/edits/test_donor.py::test_a_corner_carried_over_to_where_it_was_has_its_points_where_they_were",
        ),
    ),
    Mutation(
        "a place from the wheel centre taken for one from the hub face",
        "core/edits/donor_places.py",
        "    return {point.role: plus(point.at, times(-1.0, face)) for point in donor.points}",
        "    return {point.role: point.at for point in donor.points}",
        (
            "tests/core/edits/test_donor.py::test_a_corner_carried_over_to_where_it_was_has_its_points_where_they_were",
        ),
    ),
    Mutation(
        "the Ackermann of a steering arm told the wrong way round",
        "core/edits/donor_places.py",
        'return "more" if self.ahead * self.outboard > 0.0 else "less"',
        'return "more" if self.ahead * self.outboard < 0.0 else "less"',
        ("tests/core/edits/test_donor_warnings.py::test_the_inner_wheel_steers_as_its_arm_says",),
    ),
    Mutation(
        "what was only guessed on a donor called measured",
        "core/edits/donor.py",
        "            source=known.source,\n",
        '            source="measured",\n',
        (
            "tests/core/edits/test_donor.py::test_each_point_is_as_sure_as_it_was_measured_and_says_why_it_is_there",
        ),
    ),
    Mutation(
        "the height of a roll centre taken from z = 0",
        "core/workshop/figures.py",
        "height = read(roll_centre, axle)[1] - read(ground, axle)",
        "height = read(roll_centre, axle)[1]",
        (
            "tests/core/assess/test_axles.py::test_the_height_of_a_roll_centre_is_over_the_ground_wherever_the_car_is_drawn",
        ),
    ),
    Mutation(
        "what is not weighed shown as the centre of gravity of the whole car",
        "core/scene/weight.py",
        "return WeightMark(weight.centre, words, is_whole=False)",
        "return WeightMark(weight.centre, words, is_whole=True)",
        (
            "tests/core/scene/test_weight_mark.py::test_of_a_frame_alone_it_is_as_far_as_it_is_weighed",
        ),
    ),
    Mutation(
        "a wheel shown past its stop",
        "core/scene/standing.py",
        "    return min(max(rise, -(droop or 0.0)), bump or 0.0)",
        "    return rise + 0.0 * ((droop or 0.0) + (bump or 0.0))",
        ("tests/core/scene/test_posed.py::test_each_wheel_stops_at_its_own_stops_and_says_which",),
    ),
    Mutation(
        "the end of a track rod left behind by its rack",
        "core/scene/posed.py",
        "np.array([0.0, float(poses.travel.rack), 0.0])",
        "np.array([0.0, 0.0 * float(poses.travel.rack), 0.0])",
        ("tests/core/scene/test_posed.py::test_nothing_is_stretched_but_dampers",),
    ),
    Mutation(
        "a shaft drawn from mid-stroke whatever its wheel does",
        "core/scene/posed.py",
        "ends = (outer - pose.direction * drive.shaft_length, outer)",
        "ends = (np.array(drive.inner_joint), outer)",
        (
            "tests/core/scene/test_posed.py::test_a_drive_shaft_is_drawn_as_long_as_it_is_and_slid_as_the_independent_check_says",
        ),
    ),
    Mutation(
        "a tolerance taken for a standard deviation",
        "core/study/drawing_lots.py",
        'return fact.tolerance, "uniform", False',
        'return fact.tolerance, "normal", False',
        (
            "tests/core/study/test_built.py::test_a_toe_link_off_at_the_chassis_spreads_toe_as_known_by_hand",
        ),
    ),
    Mutation(
        "a tolerance of the program's own told as the builder's",
        "core/study/drawing_lots.py",
        'return default, "uniform", True',
        'return default, "uniform", False',
        (
            "tests/core/study/test_built.py::test_without_tolerances_the_limit_of_the_car_counts_and_it_is_said",
        ),
    ),
    Mutation(
        "other lots each time the same car is built",
        "core/study/built.py",
        "np.random.default_rng(known.seed if seed is None else seed)",
        "np.random.default_rng(seed)",
        (
            "tests/core/study/test_built.py::test_the_same_car_gives_the_same_answer_and_another_one_another",
        ),
    ),
    Mutation(
        "a point ranked with the coordinate that matters least",
        "core/study/built.py",
        "most = int(each.argmax())",
        "most = int(each.argmin())",
        (
            "tests/core/study/test_built.py::test_the_one_point_that_is_off_is_named_with_its_way_and_has_all_of_it",
        ),
    ),
    Mutation(
        "a held coordinate offered to be settled",
        "core/study/settle_places.py",
        'held = _follows(read, point.ref) or held_by(lookup.document, address) or ""',
        "held = _follows(read, point.ref)",
        ("tests/core/study/test_settle.py::test_what_is_measured_or_in_hand_may_not_move",),
    ),
    Mutation(
        "the last coordinate of a proposal alone moved",
        "core/edits/settle.py",
        "after = change(after, address, to, because=because)",
        "after = change(document, address, to, because=because)",
        ("tests/core/edits/test_settle_places.py::test_both_sides_of_a_pair_move_alike",),
    ),
    Mutation(
        "a bracket's reach not kept to when a corner is settled",
        "core/study/settle_task.py",
        "return Freedom(change, -min(each_way, each.down), min(each_way, each.up))",
        "return Freedom(change, -each_way, each_way)",
        (
            "tests/core/study/test_settle.py::test_a_bracket_bounds_how_far_a_point_goes_and_it_is_said",
        ),
    ),
    Mutation(
        "a heavier aim counted for less",
        "core/study/settle_aims.py",
        "np.sqrt(values / weight)",
        "np.sqrt(values * weight)",
        ("tests/core/study/test_settle.py::test_a_heavier_weight_brings_an_aim_nearer",),
    ),
    Mutation(
        "the arm of a damper left as drawn while its corner is settled",
        "core/study/settle_task.py",
        "arm = damper.arm and _arm_of(poses.linkage, damper.arm, drawn.legs)",
        "arm = damper.arm",
        (
            "tests/core/study/test_settle.py::test_a_damper_on_an_arm_is_read_with_the_arm_as_it_would_be_drawn",
        ),
    ),
    Mutation(
        "a new spring that keeps the block length of the old one",
        "core/edits/springs.py",
        "            spring_block_length=block_length,",
        "            spring_block_length=block_length or old.spring_block_length,",
        (
            "tests/core/edits/test_springs.py::test_a_spring_of_unknown_block_length_does_not_keep_that_of_the_old_one",
        ),
    ),
    Mutation(
        "an anti-roll bar drawn still while its wheels move",
        "core/scene/bars.py",
        "    on_blade = bar.blade(poses).at(link.on_blade)",
        "    on_blade = link.on_blade",
        ("tests/core/scene/test_bars.py::test_moved_with_its_wheels_its_rods_keep_their_lengths",),
    ),
    Mutation(
        "one wheel of a rigid axle shown on its stop and the other as if it were free",
        "core/scene/standing.py",
        "if bool(poses.is_reached) and all(are_free):",
        "if bool(poses.is_reached) and are_free[0]:",
        (
            "tests/core/scene/test_beams.py::test_a_wheel_at_its_stop_holds_the_axle_and_the_other_goes_on",
        ),
    ),
    Mutation(
        "the chassis end of an axle's link drawn as if it went with the axle",
        "core/scene/beams.py",
        "        line[0] = each.rod.line[0]",
        "        line[0] = line[0]",
        ("tests/core/scene/test_beams.py",),
    ),
)
