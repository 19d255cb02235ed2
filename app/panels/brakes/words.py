"""Tables and sentences about brakes."""

from collections.abc import Sequence

from app.widgets.figure_table import Table
from core.assess.braking import Braking
from core.quantities import number
from core.workshop.brakes_page import SHARES_AT, BrakedLoad, BrakesPage
from core.workshop.weight_page import AS_DRAWN

UNKNOWN = "?"
BAR_PER_MPA = 10.0


def load_name(load: BrakedLoad) -> str:
    """What a load is called."""
    if load.case is None:
        return AS_DRAWN
    return "?" if load.braking is None else load.braking.load


def alike(loads: Sequence[BrakedLoad]) -> list[tuple[str, BrakedLoad]]:
    """The loads with their names; those in which the same locks first are one."""
    found: list[tuple[str, BrakedLoad]] = []
    for load in loads:
        name = load_name(load)
        same = next((at for at, (_, other) in enumerate(found) if _locks_alike(load, other)), None)
        if same is None:
            found.append((name, load))
        else:
            found[same] = (f"{found[same][0]}; {name}", found[same][1])
    return found


def _locks_alike(one: BrakedLoad, other: BrakedLoad) -> bool:
    if one.braking is None or other.braking is None:
        return one.braking is other.braking and one.why == other.why
    mine, theirs = one.braking, other.braking
    return locks_words(mine) == locks_words(theirs)


def shares_table(loads: Sequence[BrakedLoad]) -> Table:
    """How much of the weight is on the front wheels, at rest and while the car slows."""
    head = ("% on front wheels", *(f"{number(g, 1)} g" if g else "at rest" for g in SHARES_AT))
    rows = tuple((load_name(load), *_shares(load)) for load in loads)
    return Table(head, rows)


def _shares(load: BrakedLoad) -> tuple[str, ...]:
    if not load.load_shares:
        return (UNKNOWN,) * len(SHARES_AT)
    return tuple(number(100.0 * share, 0) for share in load.load_shares)


def share_words(page: BrakesPage) -> str:
    """How the brake force is shared."""
    if page.front_share is None:
        return ""
    share = number(100.0 * page.front_share, 0)
    return (
        f"The front wheels do {share} % of the braking. Where they carry that share of the "
        "weight too, both axles lock together."
    )


def locks_words(found: Braking) -> str:
    """Which axle locks first, on which road."""
    up_to = found.both_lock_at
    if up_to <= 0.0:
        words = "The rear wheels lock first on every road"
    else:
        words = (
            f"The front wheels lock first up to a grip of {number(up_to, 2)}, beyond it the rear"
        )
    if found.both_lock_by_bar is None:
        return f"{words}."
    low, high = sorted(found.both_lock_by_bar)
    return f"{words}; over the balance bar's travel that is {number(low, 2)} to {number(high, 2)}."


def foot_table(loads: Sequence[BrakedLoad]) -> Table:
    """The foot's force and both line pressures for 1 g, load by load."""
    rows = tuple((load_name(load), *_foot(load.braking)) for load in loads)
    return Table(("for 1 g", "foot N", "front bar", "rear bar"), rows, 1)


def _foot(found: Braking | None) -> tuple[str, ...]:
    if found is None:
        return (UNKNOWN,) * 3
    front, rear = (number(BAR_PER_MPA * each, 0) for each in found.pressures_for_1_g)
    return number(found.foot_for_1_g, 0), front, rear


def hand_table(page: BrakesPage) -> Table:
    """The slope that the hand brake holds, load by load, beside the one wanted."""
    wanted = UNKNOWN if page.slope_wanted is None else f"{number(page.slope_wanted, 0)} %"
    rows = tuple((load_name(load), _slope(load), wanted) for load in page.loads)
    return Table(("hand brake", "holds", "wanted"), rows, 1)


def _slope(load: BrakedLoad) -> str:
    return UNKNOWN if load.slope_percent is None else f"{number(load.slope_percent, 0)} %"
