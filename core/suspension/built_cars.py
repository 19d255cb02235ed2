"""Many cars built to the same drawing: how their figures spread, and why.

All of them are solved exactly and together. What each point adds to the spread is worked out to
first order, sum of (slope times standard deviation)^2. Source: the law of propagation of
uncertainty, JCGM 100:2008, 5.1.2, and sampling as in JCGM 101:2008 (from memory).
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from core.geometry.types import Array
from core.suspension.changes import AXES, Change, Point, moving
from core.suspension.figures import Figure, read_figures, slopes_of
from core.suspension.linkage import Linkage
from core.suspension.made import solve_with
from core.suspension.poses import Poses
from core.suspension.solve import solve
from core.suspension.travel import Travel, at
from core.suspension.wheel import toe_in_deg

Kind = Literal["normal", "uniform"]

AT_DESIGN: tuple[Figure, ...] = ("camber", "toe_in", "castor", "bump_steer")


@dataclass(frozen=True, eq=False, slots=True)
class Tolerance:
    """How well one number is held when the car is built.

    Attributes:
        change: the number.
        point: what is jigged to hold it; tolerances of one name are added up.
        size: mm; standard deviation if normal, half the width if uniform.
        kind: how it falls.

    Raises:
        ValueError: if the size is below nought or not a number.
    """

    change: Change
    point: str
    size: float
    kind: Kind = "normal"

    def __post_init__(self) -> None:
        if not 0.0 <= self.size < np.inf:
            raise ValueError(f"{self.point} cannot be held to {self.size:g} mm")

    @property
    def deviation(self) -> float:
        """Standard deviation, mm."""
        return self.size if self.kind == "normal" else self.size / np.sqrt(3.0)


def tolerances_of(
    points: tuple[Point, ...], size: float, kind: Kind = "normal"
) -> tuple[Tolerance, ...]:
    """Return the same tolerance along x, y and z for every point."""
    return tuple(
        Tolerance(moving(f"{point.name}, {axis}", (point,), way), point.name, size, kind)
        for point in points
        for axis, way in AXES.items()
    )


def drawn_lots(tolerances: tuple[Tolerance, ...], count: int, lots: np.random.Generator) -> Array:
    """Return by how much each number of each car is off, (cars, tolerances) mm."""
    each = [
        lots.normal(0.0, held.size, count)
        if held.kind == "normal"
        else lots.uniform(-held.size, held.size, count)
        for held in tolerances
    ]
    return np.stack(each, axis=-1) if each else np.zeros((count, 0))


@dataclass(frozen=True, eq=False, slots=True)
class Share:
    """What one point adds to the variance of the figures, to first order.

    Attributes:
        point: as the builder calls it.
        of_figures: (figures,) share of the whole, 0 to 1.
        mean: over the figures that spread at all; by it points are ranked.
    """

    point: str
    of_figures: Array
    mean: float


@dataclass(frozen=True, eq=False, slots=True)
class BuiltCars:
    """Cars built to one drawing.

    Attributes:
        linkage: as drawn.
        tolerances: they were built to.
        bumps: (heights,) mm at which toe change was read.
        amounts: (cars, tolerances) mm, how much each is off.
        figures: what was read: those of `AT_DESIGN` at design height, without castor where there
            is no steering axis, then toe less toe at design height for each of `bumps`.
        drawn: (figures,) of the drawing.
        values: (cars, figures), solved exactly; nan where a car does not reach the heights.
        slopes: (figures, tolerances) each mm, at the drawing.
    """

    linkage: Linkage
    tolerances: tuple[Tolerance, ...]
    bumps: Array
    amounts: Array
    figures: tuple[str, ...]
    drawn: Array
    values: Array
    slopes: Array

    @property
    def is_reached(self) -> NDArray[np.bool_]:
        """(cars,), whether a car reaches all heights."""
        return np.asarray(np.isfinite(self.values).all(axis=-1))

    def deviation(self) -> Array:
        """Standard deviation (figures,) over the cars."""
        return np.asarray(np.std(self._known(), axis=0, ddof=1))

    def deviation_by_slopes(self) -> Array:
        """The same to first order, from the slopes: a check on it, and it on this."""
        return np.asarray(np.sqrt(self._variances().sum(axis=1)))

    def percentiles(self, percent: tuple[float, ...] = (5.0, 95.0)) -> Array:
        """Figures below which so many percent of the cars lie, (percent, figures)."""
        return np.asarray(np.percentile(self._known(), percent, axis=0))

    def ranked(self) -> tuple[Share, ...]:
        """Points by what they add to the variance of all figures, most first."""
        variances = self._variances()
        whole = variances.sum(axis=1)
        spreads = whole > 0.0
        parts = variances / np.where(spreads, whole, 1.0)[:, None]
        groups = np.array([held.point for held in self.tolerances])
        found = [
            Share(point, part, float(part[spreads].mean()) if spreads.any() else 0.0)
            for point in dict.fromkeys(groups.tolist())
            for part in [np.asarray(parts[:, groups == point].sum(axis=1))]
        ]
        return tuple(sorted(found, key=lambda share: -share.mean))

    def _known(self) -> Array:
        known = self.values[self.is_reached]
        if len(known) < 2:
            raise ValueError("fewer than two of the cars reach the heights")
        return known

    def _variances(self) -> Array:
        deviations = np.array([held.deviation for held in self.tolerances])
        return np.asarray((self.slopes * deviations) ** 2)


def build_cars(
    linkage: Linkage,
    tolerances: tuple[Tolerance, ...],
    bumps: Array,
    count: int,
    lots: np.random.Generator,
) -> BuiltCars:
    """Return cars built within tolerances, solved together.

    Args:
        linkage: as drawn, one corner.
        tolerances: of its numbers, at least one; independent of one another.
        bumps: (heights,) mm, a few at which toe change is read.
        count: cars.
        lots: where the numbers come from: the same state gives the same cars.

    Raises:
        ValueError: if there is no tolerance or no car.
        NotHeldError: if the linkage does not leave the upright just its travel.
    """
    if not tolerances or count < 1:
        raise ValueError("cars are built with tolerances, and at least one of them")
    changes = tuple(held.change for held in tolerances)
    travel = at(np.concatenate([[0.0], bumps]))
    read = _reading(linkage, changes, travel)
    figures = figures_at_design(linkage)
    names = (*figures, *(f"toe change at {bump:+g} mm" for bump in bumps.tolist()))
    drawn = _read(solve(linkage, travel), figures)
    amounts = drawn_lots(tolerances, count, lots)
    slopes = slopes_of(read, np.zeros(len(changes)))
    return BuiltCars(linkage, tolerances, bumps, amounts, names, drawn, read(amounts), slopes)


def figures_at_design(linkage: Linkage) -> tuple[Figure, ...]:
    """Return the figures read at design height, in their order."""
    return tuple(e for e in AT_DESIGN if e != "castor" or linkage.steering_axis is not None)


def _reading(
    linkage: Linkage, changes: tuple[Change, ...], travel: Travel
) -> Callable[[Array], Array]:
    figures = figures_at_design(linkage)
    return lambda amounts: _read(solve_with(linkage, changes, amounts, travel), figures)


def _read(poses: Poses, figures: tuple[Figure, ...]) -> Array:
    """Figures of the first position, then toe changes of the others, (..., figures)."""
    toe = toe_in_deg(poses)
    first = read_figures(poses, figures)[..., 0, :]
    return np.concatenate([first, toe[..., 1:] - toe[..., :1]], axis=-1)
