"""Loads under which the engine and gearbox moves on its mounts, with where each comes from."""

from dataclasses import dataclass
from typing import Literal

Asks = Literal["nothing", "engine", "clutch", "grip", "snap"]
Way = Literal["ahead", "back"]

GRIP_MOST = 1.5
"""Most force of a soft road or track tyre over its load; from memory, 1.2 to 1.5 is named for
sizing shafts. R. Noon 1994, quoted in a mining handbook, gives 0.65 to 0.75 for road tyres."""

NO_SOURCE = "common practice, no source"
AXLE = "engine torque x gear x final drive, gear losses left out"
BROWN = "J. Brown, A. Robertson, S. Serpento, Motor Vehicle Structures, 2002"


@dataclass(frozen=True)
class Case:
    """One load.

    Attributes:
        key: its short name.
        words: when, as the end of a sentence.
        source: where its figures come from.
        acceleration_g: of the car, ahead, left and up, in g, beyond rest under gravity.
        asks: what sets the torque: full engine, the clutch as it slips, the tyres at a grip, or
            the clutch let in at once.
        way: in first gear, or in reverse.
        grip: of the tyres, where they set the torque.
        tips: 1 or -1 where the car is also pushed left or right until it would tip.
    """

    key: str
    words: str
    source: str
    acceleration_g: tuple[float, float, float] = (0.0, 0.0, 0.0)
    asks: Asks = "nothing"
    way: Way = "ahead"
    grip: float = GRIP_MOST
    tips: int = 0


_TIPS = (
    "half the track over the height of the centre of gravity: there the car tips; the 1.4 to 1.75 "
    "on top in H. Ibrahim, course notes, chapter 9, is for wheels and pick-ups and is left out"
)
_SIDE = "1 g at most, for tyres slide: H. Ibrahim, course notes, chapter 9"
_SNAP = (
    f"the lesser of clutch and tyres, for a flywheel gives more than its engine; {BROWN}, p. 20, "
    "warn of a snapped clutch on mounts"
)

CASES = (
    Case("first_gear", "at full torque in first gear", AXLE, asks="engine"),
    Case("reverse", "at full torque in reverse", AXLE, asks="engine", way="back"),
    Case("grip_1.0", "with the tyres at a grip of 1.0", NO_SOURCE, asks="grip", grip=1.0),
    Case("grip_1.5", "with the tyres at a grip of 1.5", "soft tyres, from memory", asks="grip"),
    Case("clutch", "with the clutch slipping in first gear", AXLE, asks="clutch"),
    Case("snap", "as the clutch is let in at once in first gear", _SNAP, asks="snap"),
    Case(
        "snap_back",
        "as the clutch is let in at once in reverse",
        _SNAP,
        asks="snap",
        way="back",
    ),
    Case(
        "braking",
        "braking at 1 g",
        f"1.1 g in Cranfield tests, 0.75 g Garrett 1953, 1.75 g Pawlowski 1969: {BROWN}, table 2.4",
        (-1.0, 0.0, 0.0),
    ),
    Case("driving", "driving off at 1 g", NO_SOURCE, (1.0, 0.0, 0.0)),
    Case("left", "turning left at 1 g", _SIDE, (0.0, 1.0, 0.0)),
    Case("right", "turning right at 1 g", _SIDE, (0.0, -1.0, 0.0)),
    Case(
        "bump",
        "in a bump of 3 g",
        "2 to 3 times the load at rest: D. Barton, J. Fieldhouse, Automotive Chassis Engineering, "
        "Springer 2018, p. 225",
        (0.0, 0.0, 3.0),
    ),
    Case("kerb_right", "sliding into a kerb on the right", _TIPS, tips=1),
    Case("kerb_left", "sliding into a kerb on the left", _TIPS, tips=-1),
)


def case(key: str) -> Case:
    """Return the load of a short name.

    Raises:
        KeyError: if there is none.
    """
    return {each.key: each for each in CASES}[key]
