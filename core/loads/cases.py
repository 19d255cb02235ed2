"""Loads in which the forces in links and pick-ups are told, with where each comes from."""

from dataclasses import dataclass
from typing import Literal

How = Literal["car", "wheel", "kerb", "launch"]

NO_SOURCE = "common practice, no source"
BARTON = "D. C. Barton, J. D. Fieldhouse, Automotive Chassis Engineering, Springer 2018, p. 225"
BROWN = "J. Brown, A. Robertson, S. Serpento, Motor Vehicle Structures, 2002, table 2.4"
IBRAHIM = "H. Ibrahim, course notes on vehicle structures, chapter 9"

LAUNCH_GRIP = 1.2
"""Most force of a soft road tyre over its load; from memory, 1.2 to 1.5 is named for shafts."""


@dataclass(frozen=True)
class Case:
    """One load on a corner.

    Attributes:
        key: its short name.
        words: when.
        source: where its figures come from.
        how: `car`, the car is accelerated; `wheel`, the road puts so many times its standing load
            on the wheel; `kerb`, the car slides against a kerb and begins to tip over it; `launch`,
            the driven tyres pull with all their grip.
        figures: of `car` acceleration in g, of `wheel` times its load: ahead, towards the middle
            of the car, up; of the acceleration up what is beyond rest.
        factor: on top, of `kerb`.
        grip: of `launch`.
    """

    key: str
    words: str
    source: str
    how: How = "car"
    figures: tuple[float, float, float] = (0.0, 0.0, 0.0)
    factor: float = 1.0
    grip: float = LAUNCH_GRIP


CASES = (
    Case("standing", "standing", "statics"),
    Case(
        "bump",
        "bump, 3 times its load",
        f"2 to 3 times the standing load: {BARTON}; {IBRAHIM}",
        figures=(0.0, 0.0, 2.0),
    ),
    Case(
        "braking",
        "braking at 1.1 g",
        f"tests at Cranfield: {BROWN}; there too 0.75 g (Garrett 1953) and 1.75 g (Pawlowski 1969)",
        figures=(-1.1, 0.0, 0.0),
    ),
    Case(
        "outside",
        "cornering at 1 g, outside",
        f"1 g at most, for tyres slide: {IBRAHIM}",
        figures=(0.0, 1.0, 0.0),
    ),
    Case(
        "inside",
        "cornering at 1 g, inside",
        f"1 g at most, for tyres slide: {IBRAHIM}",
        figures=(0.0, -1.0, 0.0),
    ),
    Case(
        "kerb",
        "kerb, tipping, by 1.75",
        f"half the track over the height, by 1.4 to 1.75 on top: {IBRAHIM}",
        how="kerb",
        factor=1.75,
    ),
    Case(
        "launch",
        "launch at a grip of 1.2",
        "soft road tyres, from memory; load moved by balance of moments",
        how="launch",
    ),
    Case(
        "combined",
        "3 g up, 2 g back, 1 g in",
        f"{NO_SOURCE}; the pull back is taken at the contact, the brake on",
        how="wheel",
        figures=(-2.0, 1.0, 3.0),
    ),
)
"""Every load that comes with the program; a load case of the builder's own with an acceleration
stands beside them."""


def case(key: str) -> Case:
    """Return the case of a short name."""
    return next(each for each in CASES if each.key == key)
