"""Many cars built to one drawing: how a corner's figures spread, what adjusts it, what to jig."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from core.document.base import Ref
from core.document.project import Document
from core.engine.assess import compute
from core.engine.cells import Cell, NotComputedError, Reader, When
from core.geometry.types import Array
from core.quantities import number
from core.study.drawing_lots import HeldTo, ToBuild, Wanted, to_build
from core.suspension.built_cars import BuiltCars, build_cars
from core.suspension.correctable import correctable
from core.suspension.holding import NotHeldError
from core.suspension.nearest import Want

COUNT = 10_000
BATCH = 1_000
"""Cars between two signs of progress."""

TO_JIG = 5
"""Points that are named. Own choice."""

LOWEST, HIGHEST = 5.0, 95.0
"""Percent of the cars below the ends of the spread that is told."""

PER = 10.0
"""mm of bump for which bump steer is told."""

Progress = Callable[[object], None]


@dataclass(frozen=True)
class Spread:
    """One figure over all cars.

    Attributes:
        key: of the figure.
        words: what it is called.
        unit: of its values.
        drawn: of the drawing.
        low: five of a hundred cars lie below.
        high: five of a hundred lie above.
    """

    key: str
    words: str
    unit: str
    drawn: float
    low: float
    high: float


@dataclass(frozen=True)
class ToJig:
    """A point by what it adds to the spread.

    Attributes:
        ref: the point, or a rack's ball.
        axis: its coordinate that adds most.
        of_axis: share of the point's part that this coordinate has.
        share: of the variance, mean over the figures.
        of_figures: the same of each figure, in the order of the spreads.
        is_default: whether nothing is given for any of its coordinates.
    """

    ref: Ref
    axis: str
    of_axis: float
    share: float
    of_figures: tuple[float, ...]
    is_default: bool


@dataclass(frozen=True)
class SetRight:
    """How many cars the adjusters bring to the wanted figures.

    Attributes:
        share: of all cars.
        uncertainty: standard, of the share, from the count of cars.
        checked: cars that were set up exactly beside.
        agreed: how many of them came to the same answer.
    """

    share: float
    uncertainty: float
    checked: int
    agreed: int


@dataclass(frozen=True)
class Built:
    """What is told of many cars built to one drawing.

    Attributes:
        corner: of which.
        count: cars.
        reached: cars whose wheel goes through all its travel; the others have no figures.
        spreads: each figure; none where fewer than two cars reach the travel.
        wanted: what the corner is set to.
        right_as_built: share of all cars that are at the wanted figures with nothing adjusted.
        set_right: with the adjusters; None where nothing adjusts the corner.
        to_jig: the points that add most, most first.
        held: how near each coordinate comes.
        default_source: where the tolerance comes from that counts where none is given.
        stiff: points of an arm in one piece, which are not varied.
        lacking: what is not known and was left out, in words.
    """

    corner: Ref
    count: int
    reached: int
    spreads: tuple[Spread, ...]
    wanted: tuple[Wanted, ...]
    right_as_built: float
    set_right: SetRight | None
    to_jig: tuple[ToJig, ...]
    held: tuple[HeldTo, ...]
    default_source: str
    stiff: tuple[Ref, ...]
    lacking: tuple[str, ...]


def nothing_to_tell(progress: object) -> None:
    """Take note of progress and do nothing."""
    del progress


def built_cars(
    document: Document,
    corner: Ref,
    count: int = COUNT,
    seed: int | None = None,
    progress: Progress = nothing_to_tell,
) -> Built:
    """What becomes of a corner when many cars are built to its drawing.

    Args:
        document: the drawing.
        corner: one side.
        count: cars.
        seed: of the lots; None takes one from the corner, so that it has one answer.
        progress: told the share done, 0 to 1, after each batch; may raise to stop.

    Raises:
        NotComputedError: the corner cannot be solved, and why.
    """
    known = what_is_built(document, corner)
    lots = np.random.default_rng(known.seed if seed is None else seed)
    try:
        cars = _in_batches(known, count, lots, progress)
        return _told(corner, known, cars)
    except NotHeldError as error:
        raise NotComputedError(f"the upright is not held: {error}".rstrip(".")) from error


def what_is_built(document: Document, corner: Ref) -> ToBuild:
    """A corner of a document with what is left to chance.

    Raises:
        NotComputedError: the corner cannot be solved, and why.
    """

    def run(read: Reader) -> ToBuild:
        return to_build(read, corner)

    return compute(document, {}, Cell("to_build", When.ASKED, run))


def _in_batches(
    known: ToBuild, count: int, lots: np.random.Generator, progress: Progress
) -> BuiltCars:
    """Cars built a thousand at a time, so that it can be stopped."""
    batches: list[BuiltCars] = []
    for done in range(0, count, BATCH):
        progress(done / count)
        many = min(BATCH, count - done)
        batches.append(build_cars(known.linkage, known.tolerances, known.bumps, many, lots))
    progress(1.0)
    return replace(
        batches[0],
        amounts=np.concatenate([each.amounts for each in batches]),
        values=np.concatenate([each.values for each in batches]),
    )


def _told(corner: Ref, known: ToBuild, cars: BuiltCars) -> Built:
    reached = int(cars.is_reached.sum())
    wants = _wants(known.wanted, cars)
    return Built(
        corner,
        len(cars.values),
        reached,
        tuple(_spreads(cars)) if reached > 1 else (),
        known.wanted,
        _right_as_built(cars, wants),
        _set_right(known, cars, wants),
        _to_jig(known, cars),
        known.held,
        known.default.source,
        known.stiff,
        _lacking(known),
    )


FIGURES: dict[str, tuple[str, str, float]] = {
    "camber": ("camber", "deg", 1.0),
    "toe_in": ("toe-in", "deg", 1.0),
    "castor": ("castor", "deg", 1.0),
    "bump_steer": ("bump steer", f"deg / {PER:g} mm", PER),
}
"""Each figure at design: what it is called, its unit, and what the room's value is times."""


def _spreads(cars: BuiltCars) -> list[Spread]:
    low, high = cars.percentiles((LOWEST, HIGHEST))
    found: list[Spread] = []
    for k, key in enumerate(cars.figures):
        words, unit, times = FIGURES.get(key) or (_at_height(cars, k), "deg", 1.0)
        ends = (times * float(each) for each in (cars.drawn[k], low[k], high[k]))
        found.append(Spread(key, words, unit, *ends))
    return found


def _at_height(cars: BuiltCars, k: int) -> str:
    """What the toe change in a column of the figures is called: by the height it is read at."""
    bump = float(cars.bumps[k - len(cars.figures) + len(cars.bumps)])
    return f"toe change at {number(abs(bump), 0)} {'bump' if bump > 0.0 else 'droop'}"


def _wants(wanted: tuple[Wanted, ...], cars: BuiltCars) -> tuple[Want, ...]:
    drawn = dict(zip(cars.figures, cars.drawn.tolist(), strict=True))
    return tuple(
        Want(each.figure, drawn[each.figure] if each.value is None else each.value, each.within)
        for each in wanted
    )


def _right_as_built(cars: BuiltCars, wants: tuple[Want, ...]) -> float:
    columns = [cars.figures.index(want.figure) for want in wants]
    missed = np.abs(cars.values[:, columns] - np.array([want.value for want in wants]))
    return float((missed <= np.array([want.tolerance for want in wants])).all(axis=-1).mean())


def _set_right(known: ToBuild, cars: BuiltCars, wants: tuple[Want, ...]) -> SetRight | None:
    if not known.adjusters:
        return None
    found = correctable(cars, known.adjusters, wants)
    return SetRight(found.share, found.uncertainty, found.checked, found.agreed)


def _to_jig(known: ToBuild, cars: BuiltCars) -> tuple[ToJig, ...]:
    by_point: dict[str, list[int]] = {}
    for k, tolerance in enumerate(known.tolerances):
        by_point.setdefault(tolerance.point, []).append(k)
    parts = _parts_of_variance(cars)
    found: list[ToJig] = []
    for share in cars.ranked()[:TO_JIG]:
        columns = by_point[share.point]
        each = parts[columns]
        most = int(each.argmax())
        whole = float(each.sum())
        held = [known.held[k] for k in columns]
        found.append(
            ToJig(
                held[most].ref,
                held[most].axis,
                float(each[most]) / whole if whole else 0.0,
                share.mean,
                tuple(share.of_figures.tolist()),
                all(h.is_default for h in held),
            )
        )
    return tuple(found)


def _parts_of_variance(cars: BuiltCars) -> Array:
    """Share (tolerances,) of each coordinate in the variance, mean over figures that spread."""
    deviations = np.array([held.deviation for held in cars.tolerances])
    variances = (cars.slopes * deviations) ** 2
    whole = variances.sum(axis=1, keepdims=True)
    spreads = whole[:, 0] > 0.0
    if not spreads.any():
        return np.zeros(len(deviations))
    return np.asarray((variances[spreads] / whole[spreads]).mean(axis=0))


def _lacking(known: ToBuild) -> tuple[str, ...]:
    lacking = [f"the adjuster at {words}" for words in known.unknown]
    ends: tuple[tuple[Literal["droop", "bump"], float], ...] = (("droop", -1.0), ("bump", 1.0))
    for name, sign in ends:
        if not (sign * known.bumps > 0.0).any():
            lacking.append(f"how far the wheel goes in {name} is not known, so no toe change there")
    return tuple(lacking)
