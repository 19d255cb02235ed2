"""Named faults of weight, forces and mounts."""

from tests.mutations.mutation import Mutation

MUTATIONS = (
    Mutation(
        "a stand that pulls the car down",
        "core/balance/stands.py",
        "alike = even + np.clip(0.0, low, high) * cancels",
        "alike = even",
        ("tests/core/balance/test_stands.py::test_loads_balance_the_weight_and_only_push",),
    ),
    Mutation(
        "a car that tips off its stands said to stand",
        "core/balance/stands.py",
        "margin = gaps[edge] if hull.covers(centre) else -gaps[edge]",
        "margin = gaps[edge]",
        ("tests/core/balance/test_stands.py::test_outside_it_tips_over_the_side_it_is_beyond",),
    ),
    Mutation(
        "height by tilting with the angle's sine for its tangent",
        "core/balance/tilted.py",
        "return weighed.rear_radius + (lever - behind) / tan(phi)",
        "return weighed.rear_radius + (lever - behind) / sin(phi)",
        ("tests/core/balance/test_tilted.py::test_the_height_comes_back",),
    ),
    Mutation(
        "the rear axle taken to gain load in braking",
        "core/balance/braking.py",
        "_locks_at(grip * (1.0 - car.rear_share), front_share - lever)",
        "_locks_at(grip * (1.0 - car.rear_share), front_share + lever)",
        (
            "tests/core/checks/test_braking.py",
            "tests/core/balance/test_braking.py",
        ),
    ),
    Mutation(
        "pads on one side of the disc alone",
        "core/balance/braking.py",
        "turning = SIDES_OF_DISC * pad_friction * clamp",
        "turning = pad_friction * clamp",
        (
            "tests/core/checks/test_braking.py",
            "tests/core/balance/test_braking.py",
        ),
    ),
    Mutation(
        "roll without the weight of what leans",
        "core/balance/transfer.py",
        "stiffness = front.roll_stiffness + rear.roll_stiffness - moment",
        "stiffness = front.roll_stiffness + rear.roll_stiffness",
        ("tests/core/balance/test_transfer.py::test_roll_of_a_published_car",),
    ),
    Mutation(
        "the torque of the engine taken for that of the axle",
        "core/powerunit/torque.py",
        "return engine_nm * gear * final_drive",
        "return engine_nm + 0.0 * gear * final_drive",
        (
            "tests/core/powerunit/test_torque.py::test_axle_torque_gives_the_tractive_force_of_the_textbook",
        ),
    ),
    Mutation(
        "the engine turned the way its wheels turn",
        "core/powerunit/torque.py",
        "return np.asarray(-torque_nm * outboard_left, dtype=np.float64)",
        "return np.asarray(torque_nm * outboard_left, dtype=np.float64)",
        ("tests/core/powerunit/test_torque.py::test_driving_ahead_lifts_the_front_of_the_case",),
    ),
    Mutation(
        "a mount turned with the car's axes for its own",
        "core/powerunit/bushes.py",
        "return np.asarray((self.axes * self.stiffness) @ self.axes.T, dtype=np.float64)",
        "return np.diag(self.stiffness)",
        ("tests/core/powerunit/test_held.py::test_the_rubber_takes_up_half_of_load_times_way",),
    ),
    Mutation(
        "what an arm gets from the upright not turned round",
        "core/loads/statics.py",
        "            rows[each.by, :, at] -= push",
        "            rows[each.by, :, at] += push",
        ("tests/core/loads/test_statics.py::test_a_spring_on_an_arm_has_its_lever",),
    ),
    Mutation(
        "the legs of an arm pulled where they are pushed",
        "core/loads/statics.py",
        "at_ball: -along}",
        "at_ball: along}",
        (
            "tests/core/loads/test_statics.py::test_an_arm_that_carries_its_spring_at_the_ball_is_two_rods",
        ),
    ),
    Mutation(
        "a left turn that loads the left wheels",
        "core/loads/wheels.py",
        "loads = loads - left * _LEFT",
        "loads = loads + left * _LEFT",
        ("tests/core/loads/test_wheels.py::test_the_whole_car_is_in_balance",),
    ),
    Mutation(
        "tubes in one plane that hold everything",
        "core/loads/along.py",
        "ways[spread > LEAST_SINE * spread[0]]",
        "ways[spread > 0.0]",
        (
            "tests/core/loads/test_along.py::test_tubes_that_lean_a_little_out_of_a_plane_count_as_in_it",
        ),
    ),
)
