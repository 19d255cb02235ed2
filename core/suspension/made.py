"""A corner as it was made or set: parts of their own lengths on points that are not quite there.

It differs from a corner drawn elsewhere: there every rod is as long as its points are apart, and
the wheel stands as drawn; here the rods keep their lengths, and the upright goes where they take
it.
"""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from core.geometry.types import Array
from core.suspension.changes import (
    Change,
    axis_displaced,
    displaced,
    longer_of,
    shifts_of,
)
from core.suspension.constraints import HArm, Rod
from core.suspension.linkage import Linkage
from core.suspension.poses import Poses
from core.suspension.rows import Planes, Rods, Rows, rows_of
from core.suspension.solve import solve
from core.suspension.start import AtDesign
from core.suspension.travel import Travel


@dataclass(frozen=True, eq=False)
class Made(Linkage):
    """One corner, or many at once, other than drawn.

    A mirror image is made by mirroring the drawing and the changes, not this.

    Attributes:
        drawn: as drawn, one geometry.
        changes: what is other.
        amounts: (..., changes) mm, one row for each corner.
    """

    drawn: Linkage | None = None
    changes: tuple[Change, ...] = ()
    amounts: Array | None = None

    @cached_property
    def rows(self) -> Rows:
        """The conditions: of the chassis as it is made, the upright as it is, and the rods."""
        drawn, amounts = _of(self)
        shifts = shifts_of(self.changes, amounts)
        shape = amounts.shape[:-1]
        centre = np.broadcast_to(drawn.centre, (*shape, 3))
        chassis = rows_of(displaced(drawn, shifts, ("chassis",)), centre, drawn.spin)
        upright = rows_of(displaced(drawn, shifts, ("upright",)), centre, drawn.spin)
        rods = drawn.rows.names[: drawn.rows.rods.arms.shape[-2]]
        longer = longer_of(self.changes, amounts, rods)[..., None]
        return Rows(
            drawn.rows.names,
            shape,
            chassis.centre,
            chassis.spin,
            Rods(
                upright.rods.arms,
                chassis.rods.ends,
                drawn.rows.rods.lengths + longer,
                drawn.rows.rods.on_rack,
            ),
            Planes(upright.held.arms, chassis.held.through, chassis.held.normals),
            Planes(upright.slides.arms, chassis.slides.through, upright.slides.normals),
            upright.turns,
        )

    @cached_property
    def design(self) -> AtDesign:
        """As drawn: a corner made a little otherwise is held as that one is."""
        drawn, amounts = _of(self)
        count = int(np.prod(amounts.shape[:-1], dtype=np.intp))
        known = drawn.design

        def each(array: Array) -> Array:
            return np.broadcast_to(array, (count, *array.shape[1:]))

        return AtDesign(
            each(known.slopes),
            each(known.margin),
            np.broadcast_to(known.is_held, count),
            each(known.motion),
        )


def made(linkage: Linkage, changes: tuple[Change, ...], amounts: Array) -> Made:
    """Return corners other than drawn.

    Args:
        linkage: as drawn, or made before: then these changes come on top.
        changes: what is other.
        amounts: (..., changes) mm.

    Raises:
        ValueError: if the drawing is of many geometries, an end or a rod is not there, or an end
            is of a stiff arm.
    """
    if isinstance(linkage, Made):
        drawn, before = _of(linkage)
        shape = np.broadcast_shapes(before.shape[:-1], amounts.shape[:-1])
        both = [np.broadcast_to(a, (*shape, a.shape[-1])) for a in (before, amounts)]
        return made(drawn, linkage.changes + changes, np.concatenate(both, axis=-1))
    _check(linkage, changes)
    axis = axis_displaced(linkage, shifts_of(changes, amounts))
    return Made(linkage.constraints, linkage.wheel, axis, linkage, changes, amounts)


def solve_made(corner: Made, travel: Travel) -> Poses:
    """Return the upright of corners as made at every position.

    The same poses as of `solve`, sooner: no step is guessed from the drawing, so that even where
    the wheel is at design height the steps of Newton's method shorten from the first.

    Raises:
        NotHeldError: if the drawing does not leave the upright just its travel and one corner is
            asked; of many none is reached.
    """
    rods = corner.rows.rods.arms.shape[-2]
    if travel.lengthened is not None or not rods:
        return solve(corner, travel)
    return solve(corner, replace(travel, lengthened=np.zeros(rods)))


def solve_with(
    linkage: Linkage, changes: tuple[Change, ...], amounts: Array, travel: Travel
) -> Poses:
    """Return the upright of corners other than drawn, every one at every position.

    Args:
        linkage: as drawn, or one made before.
        changes: what is other.
        amounts: (..., changes) mm.
        travel: positions of some shape.

    Returns:
        Poses of shape (..., *shape of the positions).
    """
    apart = amounts.reshape(*amounts.shape[:-1], *(1,) * len(travel.shape), amounts.shape[-1])
    return solve_made(made(linkage, changes, apart), travel)


def travel_with(
    linkage: Linkage, changes: tuple[Change, ...], amounts: Array, travel: Travel
) -> Travel:
    """Return the positions of the corner as drawn with rods longer and chassis ends moved.

    For what only needs the drawn linkage; it takes no change of anything but a rod's length and
    chassis end.

    Args:
        linkage: as drawn.
        changes: what is other.
        amounts: (..., changes) mm, against the positions.
        travel: positions.

    Raises:
        ValueError: if a change is of another kind.
    """
    rods = linkage.rows.names[: linkage.rows.rods.arms.shape[-2]]
    shifts = shifts_of(changes, amounts)
    moved = np.zeros((*amounts.shape[:-1], len(rods), 3))
    inner = {(held.name, "inner") for held in linkage.constraints if isinstance(held, Rod)}
    for end, shift in shifts.items():
        if end not in inner:
            raise ValueError(f"{end[0]}, {end[1]} is not the chassis end of a rod")
        moved[..., rods.index(end[0]), :] += shift
    longer = longer_of(changes, amounts, rods)
    if travel.ends_moved is not None:
        moved = moved + travel.ends_moved
    if travel.lengthened is not None:
        longer = longer + travel.lengthened
    return replace(travel, ends_moved=moved, lengthened=longer)


def _of(corner: Made) -> tuple[Linkage, Array]:
    if corner.drawn is None or corner.amounts is None:
        raise ValueError("a corner as made needs the drawing and the amounts")
    return corner.drawn, corner.amounts


def _check(linkage: Linkage, changes: tuple[Change, ...]) -> None:
    if linkage.rows.shape:
        raise ValueError("corners as made come from one drawing")
    displaced(linkage, shifts_of(changes, np.zeros(len(changes))), ("chassis", "upright"))
    longer_of(changes, np.zeros(len(changes)), linkage.rows.names)
    stiff = {held.name for held in linkage.constraints if isinstance(held, HArm)}
    for change in changes:
        for name in (*(end[0] for end in change.moves), *(rod for rod, _ in change.longer)):
            if name in stiff:
                raise ValueError(f"{name} is one stiff arm: it can be drawn otherwise, not set so")
