"""What springs each wheel, as it is felt there: rates, loads, ride frequencies.

The exact rate has a term of the force in the spring. That force is known where the free length of
the coil and what its seats take up are entered, else where the load on the wheel is.
"""

from dataclasses import dataclass

import numpy as np

from core.assess.dampers import damper_at_design
from core.assess.spring_parts import (
    Springs,
    bump_stop,
    damper_ratio,
    entered_force,
    pose_at_design,
    pose_in_roll,
    springs_of,
    twisted_by,
    tyre_rate,
)
from core.assess.travels import over_travel
from core.assess.weights import sprung_load
from core.balance.masses import GRAVITY
from core.document.base import Ref
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.suspension.damper import damper_per_wheel_travel, wheel_rate
from core.suspension.poses import Poses
from core.suspension.ride import in_series, ride_frequency_hz
from core.suspension.springs import CoilSpring, at_wheel, force_from_load
from core.suspension.torsion import (
    NMM_PER_RAD,
    TorsionBar,
    torque_from_load_nm,
    torsion_at_wheel,
    turn_per_bump_rad,
)


@dataclass(frozen=True)
class Carried:
    """What the springs of a corner carry at design.

    Attributes:
        force: N, of the coil; None where it is not known, or there is none.
        torque_nm: of the torsion bar, likewise.
        by: what it is known by; empty where it is not.
    """

    force: float | None = None
    torque_nm: float | None = None
    by: str = ""


LENGTHS, LOAD = "lengths of the spring", "load on the wheel"
"""What the force in a spring is known by."""


@cell(When.RELEASE)
def carried(read: Reader, corner: Ref) -> Carried:
    """What the springs of a corner carry at design, by its lengths, else by the load."""
    springs, force = read(springs_of, corner), read(entered_force, corner)
    if springs.bar_nm_per_deg is None and force is not None:
        return Carried(force, by=LENGTHS)
    try:
        load = read(sprung_load, corner)
    except NotComputedError:
        return Carried(force, by="" if force is None else LENGTHS)
    try:
        return _from_load(read, corner, springs, force, load)
    except ValueError as error:
        msg = f"{read.label(corner)}: {error}"
        raise NotComputedError(msg) from error


def _from_load(
    read: Reader, corner: Ref, springs: Springs, force: float | None, load: float
) -> Carried:
    """Of a coil beside a torsion bar the lengths must say what it carries; the bar has the rest."""
    if springs.bar_nm_per_deg is None:
        return Carried(force_from_load(load, read(damper_ratio, corner)), by=LOAD)
    if springs.coil is not None:
        if force is None:
            return Carried()
        load -= force * read(damper_ratio, corner)
    turn = float(turn_per_bump_rad(read(pose_at_design, corner), read(twisted_by, corner)))
    return Carried(force, torque_from_load_nm(load, turn), LOAD)


@dataclass(frozen=True, eq=False)
class WheelRates:
    """The springs of a corner at the wheel, at positions.

    Attributes:
        bump: (...) wheel height, mm.
        rate: (...) N/mm, exact where the force is known, else `plain`.
        plain: (...) N/mm, rates of the springs times their ratios squared.
        load: (...) N, that they carry at the wheel; None where the force is not known.
    """

    bump: Array
    rate: Array
    plain: Array
    load: Array | None


@cell(When.RELEASE)
def rates_over_travel(read: Reader, corner: Ref) -> WheelRates:
    """The springs of a corner at the wheel, from full droop to full bump."""
    return rates_at(read, corner, read(over_travel, corner), read(carried, corner))


def rates_by_lengths(read: Reader, corner: Ref, poses: Poses) -> WheelRates:
    """The same at poses, with no load asked for: exact where the lengths of the coil say so."""
    force = read(entered_force, corner)
    return rates_at(read, corner, poses, Carried(force, by="" if force is None else LENGTHS))


def rates_at(read: Reader, corner: Ref, poses: Poses, at_design: Carried) -> WheelRates:
    """The springs of a corner at the wheel, at poses.

    Raises:
        NotComputedError: no spring is entered whole, or a rocker is drawn at dead centre.
    """
    springs = read(springs_of, corner)
    try:
        felt = [
            *([] if springs.coil is None else [_coil(read, corner, poses, at_design.force)]),
            *(
                []
                if springs.bar_nm_per_deg is None
                else [_torsion(read, corner, poses, at_design.torque_nm)]
            ),
        ]
    except ValueError as error:
        raise NotComputedError(str(error)) from error
    rise = np.asarray(poses.centre[..., 2] - poses.linkage.centre[..., 2])
    loads = [load for _, _, load in felt if load is not None]
    load = np.asarray(sum(loads)) if len(loads) == len(felt) else None
    return WheelRates(rise, _sum([f[0] for f in felt]), _sum([f[1] for f in felt]), load)


def _sum(parts: list[Array]) -> Array:
    return np.asarray(sum(parts))


Felt = tuple[Array, Array, Array | None]
"""Of one spring at the wheel: exact rate, rate times ratio squared, load."""


def _coil(read: Reader, corner: Ref, poses: Poses, force: float | None) -> Felt:
    damper, rate = read(damper_at_design, corner), read(springs_of, corner).coil
    assert rate is not None  # only asked of a corner with a coil
    plain = wheel_rate(rate, damper_per_wheel_travel(poses, damper))
    if force is None:
        return plain, plain, None
    stop = read(bump_stop, corner)
    felt = at_wheel(poses, damper, CoilSpring(rate, force), () if stop is None else (stop,))
    return felt.rate, plain, felt.load


def _torsion(read: Reader, corner: Ref, poses: Poses, torque_nm: float | None) -> Felt:
    turns_with, rate = read(twisted_by, corner), read(springs_of, corner).bar_nm_per_deg
    assert rate is not None  # only asked of a corner with a bar
    plain = np.asarray(rate * NMM_PER_RAD * turn_per_bump_rad(poses, turns_with) ** 2)
    if torque_nm is None:
        return plain, plain, None
    felt = torsion_at_wheel(poses, TorsionBar(rate, turns_with, torque_nm))
    return felt.rate, plain, felt.load


@dataclass(frozen=True)
class AtDesign:
    """The springs of a corner at the wheel, as drawn.

    Attributes:
        rate: N/mm; exact where `by` is not empty.
        plain: N/mm, rates of the springs times their ratios squared.
        load: N, that they carry at the wheel; None where it is not known.
        by: what their force is known by; empty where it is not, and `rate` is `plain`.
    """

    rate: float
    plain: float
    load: float | None
    by: str


@cell(When.RELEASE)
def rates_at_design(read: Reader, corner: Ref) -> AtDesign:
    """The springs of a corner at the wheel, as drawn."""
    return _drawn(read, corner, read(pose_at_design, corner))


@cell(When.RELEASE)
def rates_in_roll(read: Reader, corner: Ref) -> AtDesign:
    """The same as the body rolls: on a rigid axle springs inboard of the wheels hold it up less."""
    return _drawn(read, corner, read(pose_in_roll, corner))


def _drawn(read: Reader, corner: Ref, poses: Poses) -> AtDesign:
    known = read(carried, corner)
    found = rates_at(read, corner, poses, known)
    load = None if found.load is None else float(found.load)
    return AtDesign(float(found.rate), float(found.plain), load, "" if load is None else known.by)


@dataclass(frozen=True)
class Ride:
    """How a corner rides.

    Attributes:
        sprung_kg: mass on its spring.
        springs_hz: of that mass on its spring, the tyre stiff; nan where nothing comes back.
        road_hz: on spring and tyre, one upon the other; None where the tyre's stiffness is not
            known.
        at: its springs as drawn.
        sits_off: mm that the body would stand higher than drawn by the lengths of its spring;
            None where these, or the load, do not say it.
    """

    sprung_kg: float
    springs_hz: float
    road_hz: float | None
    at: AtDesign
    sits_off: float | None


@cell(When.RELEASE)
def ride(read: Reader, corner: Ref) -> Ride:
    """How a corner rides.

    Raises:
        NotComputedError: its springs, its load or its unsprung mass are not known.
    """
    load, springs, tyre = (
        read(sprung_load, corner),
        read(rates_at_design, corner),
        read(tyre_rate, corner),
    )
    kg, rate = load / GRAVITY, np.asarray(springs.rate)
    road = None if tyre is None else float(ride_frequency_hz(in_series(rate, tyre), kg))
    off = None
    if springs.by == LENGTHS and springs.load is not None and springs.rate > 0.0:
        off = (springs.load - load) / springs.rate
    return Ride(kg, float(ride_frequency_hz(rate, kg)), road, springs, off)
