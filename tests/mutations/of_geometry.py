"""Named faults of shapes, widths and gaps."""

from tests.mutations.mutation import Mutation

CARS = "tests/core/checks/test_both_cars.py"
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
        "plunge as distance minus length",
        "core/driveline/shaft.py",
        "plunge=np.where(reaches, along - across, np.inf),",
        "plunge=np.where(reaches, np.hypot(along, distance) - length, np.inf),",
        ("tests/core/driveline",),
    ),
    Mutation(
        "an unmet bend passed over",
        "core/frame/joints.py",
        "unmet = tuple(tube for tube in at.bending if not set(at.ending) - {tube})",
        "unmet = tuple(tube for tube in at.bending if not set(at.tubes()) - {tube})[:0]",
        ("tests/core/frame", "tests/core/study/test_faults.py"),
    ),
    Mutation(
        "a moving line taken to stay where it was measured",
        "core/clearance/moving.py",
        "bound = known[nearest[:, lines], np.arange(len(lines))] - moved[:, lines]",
        "bound = known[nearest[:, lines], np.arange(len(lines))] - 0.0 * moved[:, lines]",
        ("tests/core/clearance/test_moving_gaps.py",),
    ),
    Mutation(
        "a piece that could come nearer to the tyre dropped by its middle",
        "core/clearance/ring.py",
        "return self._some(np.nonzero(gaps - half <= least[owners])[0])",
        "return self._some(np.nonzero(gaps - 0.0 * half <= least[owners])[0])",
        ("tests/core/clearance/test_tyre_ring.py",),
    ),
)
