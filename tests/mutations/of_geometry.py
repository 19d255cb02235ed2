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
        (
            "tests/core/checks/test_both_cars.py::test_demo_car_has_nothing_open_that_fails_or_is_unknown",
        ),
    ),
    Mutation(
        "the arc of a bend taken for its chord",
        "core/geometry/tube_line.py",
        "            run = piece.length * _shares(piece, chord_rad)",
        "            run = piece.length * _shares(piece, 7.0)",
        (
            "tests/core/geometry/test_tube_line.py::test_the_cut_length_is_the_length_of_a_fine_polyline",
        ),
    ),
    Mutation(
        "the right-hand drive side not mirrored",
        "core/driveline/sides.py",
        'return places if side == "left" else mirror(places)',
        "return places",
        (
            "tests/core/checks/test_both_cars.py::test_demo_car_has_nothing_open_that_fails_or_is_unknown",
        ),
    ),
    Mutation(
        "the sign of the wheel offset turned round",
        "core/driveline/width.py",
        "return (drive.joint_to_hub_face + drive.spacer - drive.wheel_offset) * spin_y",
        "return (drive.joint_to_hub_face + drive.spacer + drive.wheel_offset) * spin_y",
        ("tests/core/checks/test_both_cars.py::test_track_follows_from_the_shafts",),
    ),
    Mutation(
        "plunge as distance minus length",
        "core/driveline/shaft.py",
        "plunge=np.where(reaches, along - across, np.inf),",
        "plunge=np.where(reaches, np.hypot(along, distance) - length, np.inf),",
        ("tests/core/driveline/test_lateral.py::test_at_each_edge_the_joint_just_meets_its_limit",),
    ),
    Mutation(
        "an unmet bend passed over",
        "core/frame/joints.py",
        "unmet = tuple(tube for tube in at.bending if not set(at.ending) - {tube})",
        "unmet = tuple(tube for tube in at.bending if not set(at.tubes()) - {tube})[:0]",
        (
            "tests/core/frame/test_joints.py::test_the_screen_header_left_out_leaves_two_unmet_and_loose_bends",
        ),
    ),
    Mutation(
        "a moving line taken to stay where it was measured",
        "core/clearance/moving.py",
        "bound = known[nearest[:, lines], np.arange(len(lines))] - moved[:, lines]",
        "bound = known[nearest[:, lines], np.arange(len(lines))] - 0.0 * moved[:, lines]",
        (
            "tests/core/clearance/test_moving_gaps.py::test_leaving_out_what_cannot_be_least_changes_no_gap",
        ),
    ),
    Mutation(
        "a piece that could come nearer to the tyre dropped by its middle",
        "core/clearance/ring.py",
        "return self._some(np.nonzero(gaps - half <= least[owners])[0])",
        "return self._some(np.nonzero(gaps - 0.0 * half <= least[owners])[0])",
        (
            "tests/core/clearance/test_tyre_ring.py::test_gap_to_a_line_agrees_with_points_strewn_on_the_skin",
        ),
    ),
)
