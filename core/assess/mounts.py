"""The engine and gearbox on its mounts: how it is held, how it shakes, how far it sags."""

from typing import Literal

import numpy as np

from core.assess.places import array, mount_place, the_unit, unit_end, unit_frame
from core.document.base import Ref, Vec3
from core.document.power import Insert, Mount, PowerUnit
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array, read_only, unit
from core.powerunit.bushes import Bush, MountError, across_the_stay
from core.powerunit.held import FreeMotion, Held, Moved, motions_free, moved
from core.powerunit.shaking import Mass, Shaking, shaking, torque_roll_axis

GRAVITY = 9.80665
"""m/s2, standard; 3rd General Conference on Weights and Measures, 1901."""

Which = Literal["fitted", "softest"]
"""Which insert of each mount is looked at."""

NO_TORQUE = read_only([0.0, 0.0, 0.0])


@cell(When.LIVE)
def mounts_of_unit(read: Reader) -> tuple[Ref, ...]:
    """The mounts of the engine and gearbox, in the document's order.

    Raises:
        NotComputedError: there is none.
    """
    unit_ref = the_unit(read)
    found = [ref for ref in read.all(Mount) if read.thing(Mount, ref).unit.id == unit_ref.id]
    if not found:
        msg = f"{read.label(unit_ref)} has no mounts"
        raise NotComputedError(msg)
    return tuple(found)


def insert_of(read: Reader, ref: Ref, which: Which) -> Insert:
    """The insert that is fitted in a mount, or the softest that may be.

    The softest is the one whose three figures are least in sum.

    Raises:
        NotComputedError: there is none, or which is fitted is not known.
    """
    mount = read.thing(Mount, ref)
    inserts = mount.inserts
    if not inserts:
        msg = f"how stiff {read.label(ref)} is is not known"
        raise NotComputedError(msg)
    if which == "softest" or len(inserts) == 1:
        return min(inserts, key=lambda each: sum(_three(each)))
    for each in inserts:
        if each.name == mount.fitted:
            return each
    msg = f"which of its inserts is fitted in {read.label(ref)} is not known"
    raise NotComputedError(msg)


def _three(insert: Insert) -> tuple[float, float, float]:
    return insert.stiffness.x, insert.stiffness.y, insert.stiffness.z


@cell(When.LIVE)
def bush_of(read: Reader, ref: Ref, which: Which) -> Bush:
    """A mount as springs along its own axes, where it acts on the engine and gearbox.

    The first axis of a stay is taken along it, from its two ends.

    Raises:
        NotComputedError: it is no spring, or a stay without length.
    """
    mount = read.thing(Mount, ref)
    axes, gap = mount.axes, mount.stop_gap
    own = np.column_stack([axes.x, axes.y, axes.z]).astype(np.float64)
    own = read(unit_frame, mount.unit).directions_to_car(own.T).T
    at = array(unit_end(read, ref))
    free = [None] * 3 if gap is None else [gap.x, gap.y, gap.z]
    try:
        if mount.form == "stay":
            own = across_the_stay(own, array(mount_place(read, ref)) - at)
        return Bush(
            read.label(ref),
            at,
            own,
            np.array(_three(insert_of(read, ref, which)), dtype=np.float64),
            np.array([np.inf if mm is None else mm for mm in free], dtype=np.float64),
        )
    except MountError as error:
        raise NotComputedError(_said_of(read, ref, error)) from error


def _said_of(read: Reader, ref: Ref, error: MountError) -> str:
    name = read.label(ref)
    return str(error) if name in str(error) else f"{name}: {error}"


@cell(When.LIVE)
def unit_on_mounts(read: Reader, which: Which) -> Held:
    """The engine and gearbox on its mounts, with the inserts fitted or with the softest.

    Raises:
        NotComputedError: it has no mounts, or something of them or of it is not known.
    """
    centre = unit_centre(read)
    bushes = tuple(read(bush_of, ref, which) for ref in read(mounts_of_unit))
    try:
        return Held(centre, bushes)
    except MountError as error:
        raise NotComputedError(str(error)) from error


def unit_centre(read: Reader) -> Array:
    """Centre of gravity of the engine and gearbox, (3,) mm, car frame.

    Raises:
        NotComputedError: it is not known.
    """
    unit_ref = the_unit(read)
    own: Vec3 | None = read.thing(PowerUnit, unit_ref).centre_of_gravity
    if own is None:
        msg = f"the centre of gravity of {read.label(unit_ref)} is not known"
        raise NotComputedError(msg)
    return read(unit_frame, unit_ref).to_car(array(own))


def unit_mass(read: Reader) -> float:
    """Weight of the engine and gearbox, kg.

    Raises:
        NotComputedError: it is not known.
    """
    unit_ref = the_unit(read)
    mass = read.thing(PowerUnit, unit_ref).mass_kg
    if mass is None:
        msg = f"the weight of {read.label(unit_ref)} is not known"
        raise NotComputedError(msg)
    return mass


@cell(When.LIVE)
def free_motions(read: Reader) -> tuple[FreeMotion, ...]:
    """Motions of the engine and gearbox that its mounts, as fitted, leave free."""
    return motions_free(read(unit_on_mounts, "fitted"))


@cell(When.LIVE)
def free_without(read: Reader, ref: Ref) -> tuple[FreeMotion, ...]:
    """Motions left free when one mount is lost or undone."""
    number = read(mounts_of_unit).index(ref)
    return motions_free(read(unit_on_mounts, "fitted").without(number))


@cell(When.LIVE)
def rigid_mass(read: Reader) -> Mass:
    """Weight and inertia of the engine and gearbox, car axes.

    Raises:
        NotComputedError: they are not known, or no body has such an inertia.
    """
    unit_ref = the_unit(read)
    given = read.thing(PowerUnit, unit_ref).inertia
    if given is None:
        msg = f"the moments of inertia of {read.label(unit_ref)} are not known"
        raise NotComputedError(msg)
    own = np.array(
        [
            [given.xx, given.xy, given.xz],
            [given.xy, given.yy, given.yz],
            [given.xz, given.yz, given.zz],
        ]
    )
    axes = read(unit_frame, unit_ref).axes
    try:
        return Mass(unit_mass(read), axes @ own @ axes.T)
    except MountError as error:
        msg = f"{read.label(unit_ref)}: {error}"
        raise NotComputedError(msg) from error


@cell(When.LIVE)
def unit_shakes(read: Reader) -> Shaking:
    """Frequencies and modes of the engine and gearbox on its mounts as fitted."""
    return shaking(read(unit_on_mounts, "fitted"), read(rigid_mass))


@cell(When.LIVE)
def roll_axis(read: Reader) -> Array:
    """Direction of the line that it would turn about under drive torque, hung free; car frame."""
    return read_only(torque_roll_axis(read(rigid_mass), drive_axis(read)))


def drive_axis(read: Reader) -> Array:
    """Axis of the gearbox outputs towards the left of the car, (3,) unit, car frame.

    The car's own y where no outputs are entered.

    Raises:
        NotComputedError: both outputs point one way.
    """
    unit_ref = the_unit(read)
    outputs = read.thing(PowerUnit, unit_ref).outputs
    if outputs is None:
        return np.array([0.0, 1.0, 0.0])
    own = unit(array(outputs.left_axis)) - unit(array(outputs.right_axis))
    if not own.any():
        msg = f"both outputs of {read.label(unit_ref)} point one way"
        raise NotComputedError(msg)
    axis = unit(read(unit_frame, unit_ref).directions_to_car(own))
    return axis if axis[1] >= 0.0 else -axis


@cell(When.LIVE)
def static_sag(read: Reader) -> Moved:
    """How far the engine and gearbox sinks on its mounts under its own weight.

    Raises:
        NotComputedError: the mounts leave a motion free, or something is not known.
    """
    weight = np.array([0.0, 0.0, -unit_mass(read) * GRAVITY])
    return moved_by(read(unit_on_mounts, "fitted"), weight, NO_TORQUE)


def moved_by(held: Held, force: Array, torque_nm: Array) -> Moved:
    """Where a load moves it.

    Args:
        held: the engine and gearbox on its mounts.
        force: (3,) N at its centre of gravity, car frame.
        torque_nm: (3,) N m, car frame.

    Raises:
        NotComputedError: the mounts leave a motion free.
    """
    try:
        return moved(held, force, torque_nm)
    except MountError as error:
        raise NotComputedError(str(error)) from error
