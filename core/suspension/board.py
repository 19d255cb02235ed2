"""Which one point or rod being off would explain the toe read at several heights.

Each candidate is one number, or a few, other than drawn; the toe it gives is solved exactly, and
fitted to the readings by least squares. Source of the test of fit: the chi-square test, as in
P. R. Bevington, D. K. Robinson, Data Reduction and Error Analysis for the Physical Sciences, 3rd
ed. 2003, chapters 4 and 11 (from memory). Candidates are ranked by chi-square plus twice the
count of their numbers: H. Akaike, IEEE Transactions on Automatic Control 19, 1974 (from memory).
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy.stats import chi2

from core.geometry.types import Array
from core.suspension.changes import AXES, Change, lengthening, moving, points_of
from core.suspension.constraints import Rod
from core.suspension.figures import slopes_of
from core.suspension.linkage import Linkage
from core.suspension.made import solve_with
from core.suspension.solve import solve
from core.suspension.travel import at
from core.suspension.wheel import toe_in_deg

LARGEST = 10.0
"""Most that anything is believed to be off, mm, unless told otherwise: more is seen with a tape.
Own choice."""

LEAST_APART = 6.0
"""Two candidates are told apart where one is twenty times as likely: 2 ln 20. Own choice."""

FITS = 0.01
"""Chance below which readings are taken not to come from a candidate. Common practice, no
source."""

NOTHING = 0.05
"""Chance above which readings are taken to show nothing. Common practice, no source."""

TRIES = 15
STILL = 1e-7
"""Steps shorter than this, mm, end the search."""

LEAST_VALUE = 1e-7
"""Singular value over the largest below which readings say nothing of a number."""

Verdict = Literal[
    "too few readings", "nothing shown", "none explains", "cannot tell", "several", "one"
]


@dataclass(frozen=True, eq=False, slots=True)
class BoardReadings:
    """Toe read on the car.

    Attributes:
        bumps: (readings,) mm, of the wheel centre from design height.
        toe_deg: (readings,), toe-in positive.
        uncertainty_deg: (readings,), standard, above nought.
    """

    bumps: Array
    toe_deg: Array
    uncertainty_deg: Array


@dataclass(frozen=True, eq=False, slots=True)
class Candidate:
    """What may be off, together: one coordinate, or the three of a point, or a rod's length."""

    name: str
    changes: tuple[Change, ...]


@dataclass(frozen=True, eq=False, slots=True)
class Fit:
    """How well a candidate explains the readings.

    Attributes:
        candidate: what would be off.
        amounts: (changes,) mm, by how much.
        uncertainty: (changes,) mm, standard; infinite where the readings say nothing of it.
        offset_deg: of the board, nought where it is taken to have none.
        chi_square: sum of squares of what is left over, in uncertainties; infinite where no
            corner so made reaches the heights.
        freedom: readings less numbers fitted.
        is_at_limit: whether it would have to be off by more than is believed.
    """

    candidate: Candidate
    amounts: Array
    uncertainty: Array
    offset_deg: float
    chi_square: float
    freedom: int
    is_at_limit: bool = False

    @property
    def correction(self) -> Array:
        """What to add, mm along each change: shims, or length."""
        return -self.amounts

    @property
    def chance(self) -> float:
        """That readings of such a corner would be off by so much or more; nan with no freedom."""
        return float(chi2.sf(self.chi_square, self.freedom)) if self.freedom > 0 else float("nan")

    @property
    def score(self) -> float:
        """By which candidates are ranked, least first."""
        return self.chi_square + 2.0 * len(self.amounts)


@dataclass(frozen=True, eq=False, slots=True)
class Explained:
    """What the readings tell.

    Attributes:
        verdict: in a word.
        fits: every candidate, the likeliest first.
        as_drawn: nothing off but the board.
        not_told_apart: the likeliest and what the readings do not tell from it.
    """

    verdict: Verdict
    fits: tuple[Fit, ...]
    as_drawn: Fit
    not_told_apart: tuple[Fit, ...]


def candidates_of(linkage: Linkage) -> tuple[Candidate, ...]:
    """Return every coordinate of every point, and every rod's length, one at a time.

    Points of a stiff arm are left out.
    """
    singles = [
        moving(f"{point.name}, {axis}", (point,), AXES[axis])
        for point in points_of(linkage)
        if point.body != "arm"
        for axis in AXES
    ]
    rods = [held.name for held in linkage.constraints if isinstance(held, Rod)]
    singles += [lengthening(f"{name}, length", name) for name in rods]
    return tuple(Candidate(each.name, (each,)) for each in singles)


def explain(
    linkage: Linkage,
    readings: BoardReadings,
    candidates: tuple[Candidate, ...] | None = None,
    *,
    board_may_be_off: bool = True,
    largest: float = LARGEST,
) -> Explained:
    """Return what the readings tell of one thing being off.

    Args:
        linkage: as drawn, one corner.
        readings: at any heights it reaches.
        candidates: None, all of `candidates_of`.
        board_may_be_off: whether the board may read all toe wrong by one unknown angle.
        largest: most that anything is believed to be off, mm.

    Raises:
        ValueError: if the readings are not as many numbers each, not finite, or an uncertainty
            is not above nought, or there is no candidate.
        NotHeldError: if the linkage does not leave the upright just its travel.
    """
    which = candidates_of(linkage) if candidates is None else candidates
    _check(readings, which)
    board = _Board(linkage, readings, which, board_may_be_off, largest)
    fits = tuple(sorted(_fits(board), key=lambda fit: fit.score))
    drawn = _as_drawn(board)
    near = fits[0].score + LEAST_APART
    alike = tuple(fit for fit in fits if fit.score <= near)
    return Explained(_verdict(fits, drawn, alike), fits, drawn, alike)


@dataclass(frozen=True, eq=False, slots=True)
class _Board:
    linkage: Linkage
    readings: BoardReadings
    candidates: tuple[Candidate, ...]
    may_be_off: bool
    largest: float

    @property
    def widest(self) -> int:
        return max(len(each.changes) for each in self.candidates)

    def spread(self) -> Array:
        """Which of all changes each number of a candidate is, (candidates, widest, changes)."""
        counts = [len(each.changes) for each in self.candidates]
        found = np.zeros((len(counts), self.widest, sum(counts)))
        place = 0
        for row, count in enumerate(counts):
            found[row, range(count), range(place, place + count)] = 1.0
            place += count
        return found

    def toe(self, numbers: Array) -> Array:
        """From (..., candidates, widest) mm to (..., candidates, readings) degrees, exactly."""
        changes = tuple(change for each in self.candidates for change in each.changes)
        amounts = np.einsum("...cw,cwt->...ct", numbers, self.spread())
        return toe_in_deg(solve_with(self.linkage, changes, amounts, at(self.readings.bumps)))

    def weighed(self, toe_deg: Array) -> Array:
        return toe_deg / self.readings.uncertainty_deg

    def left_over(self, toe_deg: Array) -> tuple[Array, Array]:
        """What is left (..., readings), weighed, with the best offset (...) of the board."""
        apart = self.readings.toe_deg - toe_deg
        weight = self.readings.uncertainty_deg**-2.0
        mean = np.sum(weight * apart, axis=-1) / np.sum(weight)
        offset = mean if self.may_be_off else np.zeros_like(mean)
        return self.weighed(apart - offset[..., None]), np.asarray(offset)


def _check(readings: BoardReadings, candidates: tuple[Candidate, ...]) -> None:
    arrays = (readings.bumps, readings.toe_deg, readings.uncertainty_deg)
    if len({np.shape(each) for each in arrays}) > 1 or np.ndim(readings.bumps) != 1:
        raise ValueError("each reading needs a height, a toe and an uncertainty")
    if not len(readings.bumps) or not all(np.isfinite(each).all() for each in arrays):
        raise ValueError("readings must be numbers, and at least one")
    if not (readings.uncertainty_deg > 0.0).all():
        raise ValueError("a reading without any uncertainty is none")
    if not candidates or not all(each.changes for each in candidates):
        raise ValueError("there is nothing that might be off")


def _as_drawn(board: _Board) -> Fit:
    poses = solve(board.linkage, at(board.readings.bumps))
    left, offset = board.left_over(toe_in_deg(poses))
    freedom = len(left) - int(board.may_be_off)
    none = np.zeros(0)
    return Fit(Candidate("as drawn", ()), none, none, float(offset), _square(left), freedom)


def _fits(board: _Board) -> list[Fit]:
    """Every candidate fitted, all of them side by side."""
    numbers = np.zeros((len(board.candidates), board.widest))
    share = np.ones(len(numbers))
    left, offset = board.left_over(board.toe(numbers))
    for _ in range(TRIES):
        slopes = _slopes(board, numbers)
        step = np.einsum("cwr,cr->cw", np.linalg.pinv(slopes, rcond=LEAST_VALUE), _finite(left))
        tried = np.clip(numbers + share[:, None] * step, -board.largest, board.largest)
        if np.abs(tried - numbers).max() < STILL:
            break
        new_left, new_offset = board.left_over(board.toe(tried))
        better = _squares(new_left) < _squares(left)
        numbers = np.where(better[:, None], tried, numbers)
        left = np.where(better[:, None], new_left, left)
        offset = np.where(better, new_offset, offset)
        share = np.where(better, np.minimum(2.0 * share, 1.0), 0.25 * share)
    spreads = _spreads(_slopes(board, numbers))
    return [
        _fit(board, k, numbers[k], spreads[k], float(offset[k]), _square(left[k]))
        for k in range(len(numbers))
    ]


def _fit(board: _Board, k: int, numbers: Array, spread: Array, offset: float, square: float) -> Fit:
    candidate = board.candidates[k]
    count = len(candidate.changes)
    freedom = len(board.readings.bumps) - count - int(board.may_be_off)
    at_limit = bool(np.any(np.abs(numbers) >= board.largest))
    return Fit(candidate, numbers[:count], spread[:count], offset, square, freedom, at_limit)


def _slopes(board: _Board, numbers: Array) -> Array:
    """Of weighed toe less the offset, (candidates, readings, widest), 0 where it has none."""

    def read(moved: Array) -> Array:
        return board.left_over(board.toe(moved))[0]

    return -_finite(slopes_of(read, numbers))


def _spreads(slopes: Array) -> Array:
    """Standard uncertainty (candidates, widest) of the numbers, the offset being free.

    The offset is out of the slopes already, which comes to the same as to fit it beside them.
    """
    _, values, ways = np.linalg.svd(slopes, full_matrices=False)
    size = np.maximum(values.max(axis=-1, keepdims=True, initial=0.0), 1e-12)
    told = (values > LEAST_VALUE * size) & (values > LEAST_VALUE)
    inverse = np.where(told, 1.0 / np.where(told, values, 1.0), 0.0)
    square = np.einsum("ck,ckw->cw", inverse**2, ways**2)
    seen = np.einsum("ck,ckw->cw", told.astype(np.float64), ways**2)
    return np.where(seen > 1.0 - 1e-6, np.sqrt(square), np.inf)


def _finite(array: Array) -> Array:
    return np.where(np.isfinite(array), array, 0.0)


def _squares(left: Array) -> Array:
    total = np.sum(left**2, axis=-1)
    return np.where(np.isfinite(total), total, np.inf)


def _square(left: Array) -> float:
    return float(_squares(left))


def _verdict(fits: tuple[Fit, ...], drawn: Fit, alike: tuple[Fit, ...]) -> Verdict:
    best = fits[0]
    if best.freedom < 1:
        return "too few readings"
    if drawn.chance >= NOTHING and drawn.score <= best.score + LEAST_APART:
        return "nothing shown"
    if not best.chance >= FITS:
        return "none explains"
    if len(alike) == 1:
        return "one"
    seen = [fit for fit in fits if np.isfinite(fit.uncertainty).all()]
    return "cannot tell" if len(alike) >= len(seen) else "several"
