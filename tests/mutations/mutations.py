"""Named faults that someone might write one day, each with the tests that must notice."""

from typing import NamedTuple


class Mutation(NamedTuple):
    """One change of the source, and the tests of which at least one must then fail."""

    name: str
    file: str
    old: str
    new: str
    tests: tuple[str, ...]


CARS = "tests/core/checks/test_both_cars.py"
CORNERS = (
    "tests/core/suspension/test_made_up_corners.py",
    "tests/core/suspension/test_steering.py",
)
TUBES = "tests/core/geometry/test_tubes.py"

MUTATIONS = (
    Mutation(
        "the vertex of a bend taken for the middle of its arc",
        "core/geometry/tube_solve.py",
        "step = 0.5 * radius * math.sqrt(square) / (cosine * (1.0 + cosine))",
        "step = 0.0",
        (TUBES, CARS),
    ),
    Mutation(
        "the arc of a bend taken for its chord",
        "core/geometry/tube_line.py",
        "            run = piece.length * _shares(piece, chord_rad)",
        "            run = piece.length * _shares(piece, 7.0)",
        ("tests/core/geometry/test_tube_line.py",),
    ),
    Mutation(
        "the right-hand piece not mirrored",
        "core/document/sides.py",
        "return Vec3(place.x, -place.y + 0.0, place.z)",
        "return Vec3(place.x, place.y + 0.0, place.z)",
        (CARS,),
    ),
    Mutation(
        "the right-hand drive side not mirrored",
        "core/driveline/sides.py",
        'return places if side == "left" else mirror(places)',
        "return places",
        (CARS, "tests/core/driveline"),
    ),
    Mutation(
        "the sign of the wheel offset turned round",
        "core/driveline/width.py",
        "return (drive.joint_to_hub_face + drive.spacer - drive.wheel_offset) * spin_y",
        "return (drive.joint_to_hub_face + drive.spacer + drive.wheel_offset) * spin_y",
        (CARS, "tests/core/driveline"),
    ),
    Mutation(
        "the inside radius of a tube taken for the outside",
        "core/assess/places.py",
        "return read.thing(Section, read.thing(Tube, ref).section).outside / 2",
        "return read.thing(Section, read.thing(Tube, ref).section).outside / 2 - 2.0",
        (CARS,),
    ),
    Mutation(
        "plunge as distance minus length",
        "core/driveline/shaft.py",
        "plunge=np.where(reaches, along - across, np.inf),",
        "plunge=np.where(reaches, np.hypot(along, distance) - length, np.inf),",
        ("tests/core/driveline",),
    ),
    Mutation(
        "the unit swept the wrong way on its way out",
        "core/assess/clearance.py",
        "move = unit(np.array(thing.direction, dtype=np.float64)) * thing.distance",
        "move = -unit(np.array(thing.direction, dtype=np.float64)) * thing.distance",
        ("tests/core/study/test_faults.py", CARS),
    ),
    Mutation(
        "an unmet bend passed over",
        "core/frame/joints.py",
        "unmet = tuple(tube for tube in at.bending if not set(at.ending) - {tube})",
        "unmet = tuple(tube for tube in at.bending if not set(at.tubes()) - {tube})[:0]",
        ("tests/core/frame", "tests/core/study/test_faults.py"),
    ),
    Mutation(
        "a read that is not written down",
        "core/engine/view.py",
        "        self._note(FieldKey(self._ref, path), value)",
        "        pass",
        ("tests/core/engine",),
    ),
    Mutation(
        "a held number that moves all the same",
        "core/document/facts.py",
        'if fact.source in ("in_hand", "measured"):',
        'if fact.source == "in_hand":',
        ("tests/core/edits",),
    ),
    Mutation(
        "an acceptance that never opens again",
        "core/engine/finding.py",
        "return (step if finding.higher_is_worse else -step) > WORSE_BY",
        "return False",
        ("tests/core/edits", "tests/core/engine", "tests/core/checks"),
    ),
    Mutation(
        "camber with its sign turned round",
        "core/suspension/wheel.py",
        "return np.asarray(np.degrees(np.arcsin(-own_spin(poses)[..., 2])))",
        "return np.asarray(np.degrees(np.arcsin(own_spin(poses)[..., 2])))",
        CORNERS,
    ),
    Mutation(
        "projected camber shown for the true one",
        "core/suspension/wheel.py",
        "return np.asarray(np.degrees(np.arcsin(-own_spin(poses)[..., 2])))",
        "return projected_camber_deg(poses)",
        CORNERS,
    ),
    Mutation(
        "toe of the right-hand wheel not mirrored",
        "core/suspension/linkage.py",
        'return vectors if side == "left" else mirror(vectors)',
        "return vectors",
        ("tests/core/suspension",),
    ),
    Mutation(
        "the rack moved the wrong way",
        "core/suspension/aim.py",
        "ends = rods.ends + rack * (rods.on_rack * _LEFT)",
        "ends = rods.ends - rack * (rods.on_rack * _LEFT)",
        CORNERS,
    ),
    Mutation(
        "a damper on an arm taken to be on the upright",
        "core/suspension/damper.py",
        "    if damper.arm is None:\n        return poses.at(damper.lower)",
        "    if True:\n        return poses.at(damper.lower)",
        ("tests/core/suspension/test_corners_of_both_cars.py",),
    ),
)
