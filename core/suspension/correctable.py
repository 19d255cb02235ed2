"""Which of many built cars the adjusters can set right."""

from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array
from core.suspension.adjusting import Adjuster
from core.suspension.built_cars import BuiltCars, figures_at_design
from core.suspension.figures import Figure, figures_with, slopes_of
from core.suspension.made import made
from core.suspension.nearest import Want
from core.suspension.set_up import can_be_set
from core.suspension.travel import at


@dataclass(frozen=True, eq=False, slots=True)
class Correctable:
    """How many cars can be set right.

    Attributes:
        is_correctable: (cars,), by the slopes of the adjusters at the drawing.
        share: of all cars, those that do not reach the heights counted as not.
        uncertainty: standard, of the share, from the count of cars.
        checked: cars, the first ones, that were set up exactly.
        agreed: how many of them came to the same answer.
    """

    is_correctable: NDArray[np.bool_]
    share: float
    uncertainty: float
    checked: int
    agreed: int


def correctable(
    cars: BuiltCars, adjusters: tuple[Adjuster, ...], wants: tuple[Want, ...], check: int = 20
) -> Correctable:
    """Return how many cars the adjusters bring to the wanted figures within their ranges.

    Args:
        cars: built.
        adjusters: of each of them.
        wants: figures at design height, with tolerances above nought.
        check: how many are set up exactly beside; they are a fair sample, being drawn by lot.

    Raises:
        ValueError: if there is no adjuster or want, a want is not a figure that was read at
            design height, or its tolerance is not above nought.
    """
    if not adjusters or not wants or not all(want.tolerance > 0.0 for want in wants):
        raise ValueError("setting right needs adjusters, figures and tolerances above nought")
    missed = _missed(cars, wants)
    names: tuple[Figure, ...] = tuple(want.figure for want in wants)
    changes = tuple(each.change for each in adjusters)
    read = figures_with(cars.linkage, changes, at(), names)
    slopes = slopes_of(read, np.zeros(len(adjusters)))
    found = within_reach(missed, slopes, adjusters, wants)
    share = float(found.mean())
    agreed = sum(
        bool(found[k]) == _is_set_right(cars, k, adjusters, wants)
        for k in range(min(check, len(found)))
    )
    spread = float(np.sqrt(share * (1.0 - share) / len(found)))
    return Correctable(found, share, spread, min(check, len(found)), agreed)


def within_reach(
    missed: Array, slopes: Array, adjusters: tuple[Adjuster, ...], wants: tuple[Want, ...]
) -> NDArray[np.bool_]:
    """Return which cars have amounts within all ranges that bring every figure within tolerance.

    What the adjusters can do, the tolerances added, is a zonotope in the space of the figures: a
    place is in it if it is not beyond its width along any normal of a face, and each face is
    spanned by one less of its generators than there are figures. Source: G. M. Ziegler, Lectures
    on Polytopes, Springer 1995, chapter 7 (from memory).

    Args:
        missed: (cars, wants), wanted less built; nan is not within reach.
        slopes: (wants, adjusters) each mm.
        adjusters: with their ranges.
        wants: with their tolerances.
    """
    tolerances = np.array([want.tolerance for want in wants])
    halves = np.array([0.5 * (each.most - each.least) for each in adjusters])
    middles = np.array([0.5 * (each.most + each.least) for each in adjusters])
    ways = np.concatenate([slopes * halves / tolerances[:, None], np.eye(len(wants))], axis=1)
    normals = _normals(ways)
    far = np.abs((missed - slopes @ middles) / tolerances @ normals)
    with np.errstate(invalid="ignore"):
        return np.asarray((far <= np.abs(normals.T @ ways).sum(axis=1) + 1e-12).all(axis=-1))


def _normals(ways: Array) -> Array:
    """Of the faces that any of the generators (figures, ways) span, (figures, normals) unit."""
    size = len(ways)
    if size == 1:
        return np.ones((1, 1))
    found: list[Array] = []
    for chosen in combinations(range(ways.shape[1]), size - 1):
        left, values, _ = np.linalg.svd(ways[:, chosen])
        if values[-1] > 1e-12 * values[0]:
            found.append(np.asarray(left[:, -1]))
    return np.stack(found, axis=1)


def _missed(cars: BuiltCars, wants: tuple[Want, ...]) -> Array:
    known = figures_at_design(cars.linkage)
    for want in wants:
        if want.figure not in known:
            raise ValueError(f"{want.figure} was not read of these cars at design height")
    columns = [known.index(want.figure) for want in wants]
    values = np.where(cars.is_reached[:, None], cars.values[:, columns], np.nan)
    return np.asarray(np.array([want.value for want in wants]) - values)


def _is_set_right(
    cars: BuiltCars, k: int, adjusters: tuple[Adjuster, ...], wants: tuple[Want, ...]
) -> bool:
    if not cars.is_reached[k]:
        return False
    changes = tuple(held.change for held in cars.tolerances)
    return can_be_set(made(cars.linkage, changes, cars.amounts[k]), adjusters, wants)
