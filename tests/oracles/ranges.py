"""What the tests hold the wheel planes against, and the program itself has no use for."""

from core.driveline.lateral import LateralRange


def common_range(
    left: LateralRange, right: LateralRange, move: float
) -> tuple[float, float] | None:
    """Wheel planes both sides can have alike with the unit moved to the left, mm outboard.

    None if there is no such place.
    """
    low = max(left.lower + move, right.lower - move)
    high = min(left.upper + move, right.upper - move)
    return (low, high) if low <= high else None
