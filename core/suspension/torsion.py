"""Torsion bars: their rate by size, and what they are at the wheel."""

from dataclasses import dataclass

import numpy as np

from core.geometry.types import Array
from core.suspension.arms import arm_poses
from core.suspension.makers import Arm
from core.suspension.poses import Poses
from core.suspension.rocker import Rocker, rocker_poses
from core.suspension.screw import cross
from core.suspension.springs import LEAST_RATIO, AtWheel, more_than_nothing, ratio_change

NMM_PER_RAD = 1000.0 * 180.0 / np.pi
"""N mm a radian in one N m a degree."""

STEEL_SHEAR_MPA = 80_000.0
"""Shear modulus of steel, N/mm2: 79,000 to 81,000 (from memory)."""


@dataclass(frozen=True, eq=False, slots=True)
class TorsionBar:
    """A bar held still at one end, whose other turns with an arm about its axis or with a rocker.

    Attributes:
        rate_nm_per_deg: torque for each degree of twist.
        turns_with: the arm or rocker on it.
        torque_at_design_nm: in the sense of the turn told for it; see `torque_from_load_nm`.
    """

    rate_nm_per_deg: float
    turns_with: Arm | Rocker
    torque_at_design_nm: float = 0.0

    def __post_init__(self) -> None:
        """Refuse a bar without rate."""
        more_than_nothing("rate of the torsion bar", self.rate_nm_per_deg)


def twisting_rate_nm_per_deg(
    outside: float, length: float, inside: float = 0.0, shear_modulus_mpa: float = STEEL_SHEAR_MPA
) -> float:
    """Return the torque for each degree that a round bar or tube is twisted: G J / L.

    J = pi (D^4 - d^4) / 32. Left out: blades, splines, and what the bearings give. Source: any
    text on strength of materials, torsion of round shafts (from memory).

    Args:
        outside: diameter, mm.
        length: between what twists it, mm.
        inside: diameter, mm; 0 where it is solid.
        shear_modulus_mpa: of its material.

    Raises:
        ValueError: if a size is nothing or the inside not below the outside.
    """
    for what, number in (
        ("outside of the bar", outside),
        ("length of the bar", length),
        ("shear modulus", shear_modulus_mpa),
    ):
        more_than_nothing(what, number)
    if not 0.0 <= inside < outside:
        raise ValueError(f"a bar of {outside:g} outside cannot be {inside:g} inside")
    polar = np.pi / 32.0 * (outside**4 - inside**4)
    return float(shear_modulus_mpa * polar / length / NMM_PER_RAD)


def turn_rad(poses: Poses, turns_with: Arm | Rocker) -> Array:
    """Return how far an arm or rocker has turned from design, (...) rad."""
    if isinstance(turns_with, Arm):
        return arm_poses(poses, turns_with).angle_rad
    return rocker_poses(poses, turns_with).angle_rad


def turn_per_bump_rad(poses: Poses, turns_with: Arm | Rocker) -> Array:
    """Return how far it turns for each mm that the wheel centre rises, (...) rad."""
    if isinstance(turns_with, Rocker):
        return rocker_poses(poses, turns_with).per_bump_rad
    arm = arm_poses(poses, turns_with)
    ahead = cross(arm.axis, arm.outer - arm.hinge)
    moved = np.sum(ahead * poses.per_bump.at(arm.outer), axis=-1)
    return np.asarray(moved / np.sum(ahead**2, axis=-1))


def torque_from_load_nm(load: float, per_bump_rad: float) -> float:
    """Return the torque of the bar that carries a load at the wheel.

    Args:
        load: N, of what is sprung, on this wheel at design.
        per_bump_rad: turn of the bar for each mm of the wheel, at design.

    Raises:
        ValueError: if there is no load, or the bar does not turn.
    """
    more_than_nothing("sprung load on the wheel", load)
    if not abs(per_bump_rad) > LEAST_RATIO / 1000.0:
        raise ValueError("the torsion bar does not turn as the wheel rises: it carries no load")
    return load / per_bump_rad / 1000.0


def torsion_at_wheel(poses: Poses, bar: TorsionBar) -> AtWheel:
    """Return what a torsion bar is at the wheel: W = T t', dW/dz = k t'^2 + T t''.

    t is its turn; T the torque at design plus rate times turn, the same both ways. `energy` is
    reckoned from where the bar is without torque.
    """
    per_bump = turn_per_bump_rad(poses, bar.turns_with)
    rate = bar.rate_nm_per_deg * NMM_PER_RAD
    torque = 1000.0 * bar.torque_at_design_nm + rate * turn_rad(poses, bar.turns_with)
    change = ratio_change(poses, lambda at: turn_per_bump_rad(at, bar.turns_with))
    geometric = torque * change
    return AtWheel(
        np.asarray(torque * per_bump),
        np.asarray(rate * per_bump**2 + geometric),
        np.asarray(geometric),
        np.asarray(0.5 * torque**2 / rate),
    )
