"""Named faults of rules."""

from tests.mutations.mutation import Mutation

BEAMS, BEAM_RULES = "tests/core/assess/test_beams.py", "tests/core/checks/test_beams.py"

MUTATIONS = (
    Mutation(
        "the closest gap told and no other that is not fine",
        "core/checks/moving.py",
        "return (*(amiss or known[:1] or _far(read, ref, found)), *told)",
        "return (*(known[:1] or _far(read, ref, found)), *told)",
        ("tests/core/checks/test_moving.py",),
    ),
    Mutation(
        "the limit of an axle not asked for",
        "core/checks/suspension.py",
        'allowed = read(limit, "bump_steer", ref, read.thing(Corner, ref).axle)',
        'allowed = read(limit, "bump_steer", ref)',
        ("tests/core/checks/test_suspension.py",),
    ),
    Mutation(
        "bump steer from nought and not from the design toe",
        "core/checks/suspension.py",
        "change = toe - toe[int(np.abs(curves.along).argmin())]",
        "change = toe - 0.0",
        ("tests/core/checks/test_suspension.py",),
    ),
    Mutation(
        "links that lock before the end of the travel called fine",
        "core/checks/suspension.py",
        'verdict: Verdict = "fine" if goes >= needed else "no"',
        'verdict: Verdict = "fine"',
        ("tests/core/checks/test_suspension.py",),
    ),
    Mutation(
        "the ends of a damper taken for each other",
        "core/checks/suspension.py",
        "closes = None if found.closed is None else found.shortest - found.closed",
        "closes = None if found.closed is None else found.longest - found.closed",
        ("tests/core/checks/test_suspension.py",),
    ),
    Mutation(
        "the car's own figure for a tilt put before the one on the part",
        "core/checks/link_tilts.py",
        "    if tilt.limit_deg is not None:\n",
        "    if tilt.limit_deg is not None and not read.label(ref):\n",
        ("tests/core/checks/test_suspension.py",),
    ),
    Mutation(
        "a tilt over part of the travel called fine",
        "core/checks/link_tilts.py",
        'if verdict != "no" and not tilt.is_whole:',
        'if verdict == "no" and not tilt.is_whole:',
        ("tests/core/checks/test_suspension.py",),
    ),
    Mutation(
        "figures that are not wanted taken to be right",
        "core/checks/set_up.py",
        'verdict, words = "unknown", f"{words} {_not_wanted(found.wants)}"',
        'words = f"{words} {_not_wanted(found.wants)}"',
        ("tests/core/checks/test_set_up.py",),
    ),
    Mutation(
        "half of what a thread needs taken to be enough",
        "core/checks/set_up.py",
        "    if engaged is None or needed is None:",
        "    if engaged is None:\n        engaged = 0.0\n    needed = needed or 0.0\n    if False:",
        ("tests/core/checks/test_set_up.py",),
    ),
    Mutation(
        "a rack on the other side than the steering arm taken to suit it",
        "core/checks/steering_arm.py",
        'return self.arm.points == self.rack.points != "neither"',
        'return self.arm.points != "neither"',
        ("tests/core/checks/test_steering_arm.py",),
    ),
    Mutation(
        "the inner wheel taken for the outer one",
        "core/checks/steering_arm.py",
        "    more = left + right",
        "    more = -left - right",
        ("tests/core/checks/test_steering_arm.py",),
    ),
    Mutation(
        "a wheel that hangs on a joint called fine",
        "core/checks/springs.py",
        '        return "fine", words\n    return "tight", f',
        '        return "fine", words\n    return "fine", f',
        ("tests/core/checks/test_springs.py",),
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
        (BEAM_RULES,),
    ),
    Mutation(
        "a stop that is met taken for fine",
        "core/checks/mounts.py",
        '        verdict = "unknown"\n    return Finding(\n        "mount_stops",',
        '        verdict = "fine"\n    return Finding(\n        "mount_stops",',
        ("tests/core/checks/test_mounts.py",),
    ),
    Mutation(
        "a mount that is not captive taken for one that is",
        "core/checks/mounts.py",
        "    if captive:\n",
        "    if captive is not None:\n",
        ("tests/core/checks/test_mounts.py",),
    ),
)
