"""Named faults of rules."""

from tests.mutations.mutation import Mutation

BEAMS, BEAM_RULES = "tests/core/assess/test_beams.py", "tests/core/checks/test_beams.py"

MUTATIONS = (
    Mutation(
        "the closest gap told and no other that is not fine",
        "core/checks/moving.py",
        "return (*(amiss or known[:1] or _far(read, ref, found)), *told)",
        "return (*(known[:1] or _far(read, ref, found)), *told)",
        ("tests/core/checks/test_moving.py::test_worst_comes_first_and_no_pair_twice",),
    ),
    Mutation(
        "the limit of an axle not asked for",
        "core/checks/suspension.py",
        'allowed = read(limit, "bump_steer", ref, read.thing(Corner, ref).axle)',
        'allowed = read(limit, "bump_steer", ref)',
        (
            "tests/core/checks/test_suspension.py::test_the_demo_car_is_fine_or_tight_and_the_second_knows_all_but_its_joints",
        ),
    ),
    Mutation(
        "bump steer from nought and not from the design toe",
        "core/checks/suspension.py",
        "change = toe - toe[int(np.abs(curves.along).argmin())]",
        "change = toe - 0.0",
        (
            "tests/core/checks/test_suspension.py::test_bump_steer_is_the_largest_change_from_the_design_toe",
        ),
    ),
    Mutation(
        "links that lock before the end of the travel called fine",
        "core/checks/suspension.py",
        'verdict: Verdict = "fine" if goes >= needed else "no"',
        'verdict: Verdict = "fine"',
        (
            "tests/core/checks/test_suspension.py::test_links_that_lock_before_the_end_of_the_travel_are_told",
        ),
    ),
    Mutation(
        "the ends of a damper taken for each other",
        "core/checks/suspension.py",
        "closes = None if found.closed is None else found.shortest - found.closed",
        "closes = None if found.closed is None else found.longest - found.closed",
        (
            "tests/core/checks/test_suspension.py::test_a_damper_is_held_against_its_closed_length_in_bump_and_its_open_one_in_droop",
        ),
    ),
    Mutation(
        "the car's own figure for a tilt put before the one on the part",
        "core/checks/link_tilts.py",
        "    if tilt.limit_deg is not None:\n",
        "    if tilt.limit_deg is not None and not read.label(ref):\n",
        (
            "tests/core/checks/test_suspension.py::test_the_demo_car_is_fine_or_tight_and_the_second_knows_all_but_its_joints",
        ),
    ),
    Mutation(
        "a tilt over part of the travel called fine",
        "core/checks/link_tilts.py",
        'if verdict != "no" and not tilt.is_whole:',
        'if verdict == "no" and not tilt.is_whole:',
        (
            "tests/core/checks/test_suspension.py::test_a_tilt_over_part_of_the_travel_is_never_fine",
        ),
    ),
    Mutation(
        "figures that are not wanted taken to be right",
        "core/checks/set_up.py",
        'verdict, words = "unknown", f"{words} {_not_wanted(found.wants)}"',
        'words = f"{words} {_not_wanted(found.wants)}"',
        ("tests/core/checks/test_set_up.py::test_what_is_not_wanted_is_never_fine",),
    ),
    Mutation(
        "half of what a thread needs taken to be enough",
        "core/checks/set_up.py",
        "    if engaged is None or needed is None:",
        "    if engaged is None:\n        engaged = 0.0\n    needed = needed or 0.0\n    if False:",
        (
            "tests/core/checks/test_set_up.py::test_half_of_what_a_thread_needs_is_unknown_and_none_of_it_is_said",
        ),
    ),
    Mutation(
        "a rack on the other side than the steering arm taken to suit it",
        "core/checks/steering_arm.py",
        'return self.arm.points == self.rack.points != "neither"',
        'return self.arm.points != "neither"',
        (
            "tests/core/checks/test_steering_arm.py::test_a_rack_on_the_other_side_than_the_arm_is_never_fine",
        ),
    ),
    Mutation(
        "the inner wheel taken for the outer one",
        "core/checks/steering_arm.py",
        "    more = left + right",
        "    more = -left - right",
        (
            "tests/core/checks/test_steering_arm.py::test_an_arm_on_the_side_of_its_rack_is_fine_and_ackermann_is_told",
        ),
    ),
    Mutation(
        "a wheel that hangs on a joint called fine",
        "core/checks/springs.py",
        '        return "fine", words\n    return "tight", f',
        '        return "fine", words\n    return "fine", f',
        (
            "tests/core/checks/test_springs.py::test_the_demo_car_is_fine_but_for_what_its_wheels_hang_on",
        ),
    ),
    Mutation(
        "a bump stop that is not met called fine",
        "core/checks/springs.py",
        '    if met.at is None:\n        return "no", (',
        '    if met.at is None:\n        return "fine", (',
        ("tests/core/checks/test_springs.py",),
    ),
    Mutation(
        "a rigid axle that locks with one wheel up and the other down called fine",
        "core/checks/beams.py",
        'if alike.verdict == "no" or everywhere.is_reached.all():',
        'if alike.verdict == "no" or everywhere.is_reached.any():',
        (
            "tests/core/checks/test_beams.py::test_links_that_let_both_wheels_rise_but_not_one_alone_are_told",
        ),
    ),
    Mutation(
        "a stop that is met taken for fine",
        "core/checks/mounts.py",
        '        verdict = "unknown"\n    return Finding(\n        "mount_stops",',
        '        verdict = "fine"\n    return Finding(\n        "mount_stops",',
        (
            "tests/core/checks/test_mounts.py::test_a_stop_nearly_met_is_tight_and_one_met_is_not_known",
        ),
    ),
    Mutation(
        "a mount that is not captive taken for one that is",
        "core/checks/mounts.py",
        "    if captive:\n",
        "    if captive is not None:\n",
        ("tests/core/checks/test_mounts.py::test_a_mount_that_is_lost_must_be_captive",),
    ),
)
