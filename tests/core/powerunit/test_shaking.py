"""Frequencies and modes against textbook figures and closed forms."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.geometry.types import Array
from core.powerunit.bushes import MountError
from core.powerunit.shaking import Mass, shaking, torque_roll_axis
from tests.core.powerunit.mounted import bush, on, three


def of_points(masses: Array, places: Array) -> Array:
    """Inertia tensor of point masses about the origin, kg m2 for places in m, summed one by one."""
    found = np.zeros((3, 3))
    for mass, (x, y, z) in zip(masses, places, strict=True):
        found += mass * np.array(
            [
                [y * y + z * z, -x * y, -x * z],
                [-x * y, x * x + z * z, -y * z],
                [-x * z, -y * z, x * x + y * y],
            ]
        )
    return found


def test_bounce_and_pitch_of_a_body_on_two_springs() -> None:
    """S. S. Rao, Mechanical Vibrations, the automobile example (figures from memory).

    m 1000 kg, radius of gyration 0.9 m, springs of 18 and 22 kN/m at 1.0 m ahead and 1.5 m behind:
    5.8593 and 9.4341 rad/s, bounce over pitch -2.6461 and +0.3061 m.
    """
    held = on(
        bush((1000.0, 0.0, 0.0), (0.0, 0.0, 18.0)), bush((-1500.0, 0.0, 0.0), (0.0, 0.0, 22.0))
    )

    found = shaking(held, Mass(1000.0, np.eye(3) * 810.0))

    rates = 2.0 * math.pi * found.frequencies[-2:]
    assert rates == pytest.approx([5.8593, 9.4341], abs=5e-5)
    ratios = found.shapes[2, -2:] / found.shapes[4, -2:] / 1000.0
    assert ratios == pytest.approx([-2.6461, 0.3061], abs=5e-5)
    assert found.frequencies[:4] == pytest.approx(np.zeros(4), abs=1e-6)


@given(
    st.floats(50.0, 400.0),
    st.floats(50.0, 400.0),
    st.floats(-300.0, 300.0),
    st.lists(st.floats(50.0, 2000.0), min_size=3, max_size=3),
)
def test_four_equal_mounts_with_two_planes_of_symmetry(
    a: float, b: float, h: float, k: list[float]
) -> None:
    """Closed form: bounce and yaw alone, fore and aft with pitch, sideways with roll, in pairs.

    w^2 = (2/m) [A +- sqrt(A^2 - 4 kh kz a^2 / rho^2)], A = kh (1 + h^2/rho^2) + kz a^2/rho^2.
    """
    mass, moments = 150.0, (9.0, 6.0, 10.0)
    corners = [(x, y, h) for x in (-a, a) for y in (-b, b)]
    kx, ky, kz = k
    held = on(*(bush(corner, (kx, ky, kz)) for corner in corners))

    found = (2.0 * math.pi * shaking(held, Mass(mass, np.diag(moments))).frequencies) ** 2

    wanted = [4.0 * kz / mass * 1e3, 4.0 * (kx * b * b + ky * a * a) / (moments[2] * 1e3)]
    for stiff, arm, moment in ((kx, a, moments[1]), (ky, b, moments[0])):
        gyration = moment / mass * 1e6
        big = stiff * (1.0 + h * h / gyration) + kz * arm * arm / gyration
        root = math.sqrt(big * big - 4.0 * stiff * kz * arm * arm / gyration)
        wanted += [2.0 / mass * 1e3 * (big + sign * root) for sign in (-1.0, 1.0)]
    assert found == pytest.approx(sorted(wanted), rel=1e-6)


def test_each_mode_shakes_by_itself_and_shares_add_to_one() -> None:
    held, mass = on(*three()), Mass(196.0, np.diag([11.6, 6.9, 11.1]))

    found = shaking(held, mass)

    square = found.shapes.T @ held.stiffness @ found.shapes
    assert square == pytest.approx(np.diag((2.0 * math.pi * found.frequencies) ** 2), abs=1e-6)
    assert found.shares.sum(axis=0) == pytest.approx(np.ones(6))
    assert len(found.names) == 6


@given(st.lists(st.floats(-0.5, 0.5), min_size=12, max_size=12))
def test_a_free_body_turns_about_the_axis_told(numbers: list[float]) -> None:
    """Newton for every point of a body: sum of r x m (a x r) is the torque it was given.

    So it also tells that off the diagonal of the tensor stands minus the sum of m x y.
    """
    places = np.vstack([np.array(numbers).reshape(4, 3), np.eye(3), -np.eye(3)])
    masses = np.linspace(1.0, 3.0, len(places))
    mass = Mass(float(masses.sum()), of_points(masses, places))

    axis = torque_roll_axis(mass, np.array([0.0, 1.0, 0.0]))

    torque = np.cross(places, masses[:, None] * np.cross(axis, places)).sum(axis=0)
    assert torque / np.linalg.norm(torque) == pytest.approx([0.0, 1.0, 0.0], abs=1e-9)


@pytest.mark.parametrize(
    ("kg", "inertia", "words"),
    [
        (0.0, np.eye(3), "mass above nought"),
        (-1.0, np.eye(3), "mass above nought"),
        (1.0, np.diag([1.0, 1.0, 3.0]), "no body has such moments"),
        (1.0, np.diag([1.0, 1.0, -1.0]), "no body has such moments"),
        (1.0, np.array([[1.0, 0.1, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]), "mirrored about"),
    ],
)
def test_a_mass_that_no_body_has_is_refused(kg: float, inertia: Array, words: str) -> None:
    with pytest.raises(MountError, match=words):
        Mass(kg, inertia)
