"""The numbers that rules hold things against: the program's own, or this car's."""

from dataclasses import dataclass

from core.document.base import Ref
from core.document.records import Limit
from core.engine.cells import NotComputedError, Reader, When, cell
from core.engine.finding import Verdict
from core.quantities import unit_factor
from core.quantities.units import ANGLE, LENGTH


@dataclass(frozen=True)
class Default:
    """A limit of the program's own: its value, where tight begins, and why.

    Attributes:
        value: the figure things are held against.
        margin: how far on the good side of it still counts as tight.
        unit: of both.
        words: what it limits.
        source: where the figure comes from.
        counts: whether it counts until the builder gives one; else it is offered and no more, for
            the true figure is on the part.
    """

    value: float
    margin: float
    unit: str
    words: str
    source: str
    counts: bool = True


OWN = "the program's own judgement, no text; set your own"
PRACTICE = "common practice, no source"

DEFAULTS: dict[str, Default] = {
    "unit_gap": Default(
        10.0,
        5.0,
        "mm",
        "engine and gearbox on soft mounts to a tube",
        "Australian street-rod federation, «Garage session: so let's be clear»: 10 to 15 mm",
    ),
    "unit_gap_moved": Default(
        5.0, 5.0, "mm", "engine and gearbox, moved on its mounts, to a tube", PRACTICE
    ),
    "drop_gap": Default(
        10.0, 5.0, "mm", "engine and gearbox to a tube on the way out, guided by hand", OWN
    ),
    "roll_out_gap": Default(
        20.0, 0.0, "mm", "room all round when rolling the engine and gearbox out", OWN
    ),
    "bracket_reach": Default(
        80.0, 8.0, "mm", "bracket from what it carries to its tube joint", OWN
    ),
    "straight_between_bends": Default(
        60.0, 0.0, "mm", "straight tube beside a bend, for the bender's clamp", OWN
    ),
    "moving_gap": Default(5.0, 5.0, "mm", "moving part to anything", PRACTICE),
    "run_gap": Default(3.0, 0.0, "mm", "hose, pipe or cable to anything", PRACTICE),
    "bump_steer": Default(0.15, 0.0, "deg", "change of toe over the travel", OWN),
    "rod_off_square": Default(
        45.0, 15.0, "deg", "track rod off square to its steering arm, wheels straight", OWN
    ),
    "link_tilt": Default(
        12.0, 2.0, "deg", "tilt of a link joint whose own limit is not given", OWN, counts=False
    ),
    "damper_left": Default(0.0, 3.0, "mm", "travel left in a damper at either end", OWN),
    "coil_bind_left": Default(
        5.0, 5.0, "mm", "left of a spring at full bump before its coils close", PRACTICE
    ),
    "corner_camber": Default(
        0.1, 0.0, "deg", "camber at the design position, off the wanted one", OWN
    ),
    "corner_toe": Default(
        0.05, 0.0, "deg", "toe-in at the design position, off the wanted one", OWN
    ),
    "build_tolerance": Default(
        1.0,
        0.0,
        "mm",
        "how near a tape-built hardpoint comes, either way, where nothing is given",
        OWN,
    ),
    "plunge_reserve": Default(
        0.0, 3.0, "mm", "stroke left at either stop, beyond what is kept back", OWN
    ),
    "joint_angle": Default(0.0, 2.0, "deg", "angle left to a shaft joint's own limit", OWN),
    "mount_stop": Default(
        0.0, 2.0, "mm", "free movement left in a mount before it meets its stop", OWN
    ),
    "mount_turn": Default(
        3.0,
        0.0,
        "deg",
        "turn of the engine and gearbox on its mounts, for small turns are worked out",
        OWN,
    ),
    "stay_fit": Default(0.5, 0.0, "mm", "a stay's length against its two ends", OWN),
    "seat_fit": Default(0.05, 0.0, "mm", "depths of hub seats that must add up", OWN),
    "joint_apart": Default(0.5, 0.0, "mm", "a tube joint off the tube it is said to lie on", OWN),
    "weighed_apart": Default(
        3.0, 1.0, "%", "an axle on scales, off what the sum of all weights says", OWN
    ),
    "stand_margin": Default(
        0.0, 50.0, "mm", "centre of gravity inside the line between two stands", OWN
    ),
    "loaded_radius": Default(
        3.0, 1.0, "mm", "tyre radius drawn, off what its load and stiffness give", OWN
    ),
    "front_locks": Default(
        0.8,
        0.3,
        "",
        "grip up to which the front axle locks first",
        "UN Regulation 13-H, annex 5: front first from 0.15 to 0.8 g (from memory)",
    ),
    "touch": Default(1.0, 0.0, "mm", "tubes nearer than this touch", OWN),
}


@dataclass(frozen=True)
class Limited:
    """A limit as it counts for one thing."""

    value: float
    margin: float
    unit: str
    source: str

    def verdict_at_least(self, measured: float) -> Verdict:
        """Fine, tight or no for a figure that must not fall below the limit."""
        if measured < self.value:
            return "no"
        return "tight" if measured < self.value + self.margin else "fine"

    def verdict_at_most(self, measured: float) -> Verdict:
        """Fine, tight or no for a figure that must not rise above the limit."""
        if measured > self.value:
            return "no"
        return "tight" if measured > self.value - self.margin else "fine"


@cell(When.LIVE)
def limit(read: Reader, key: str, *subjects: Ref) -> Limited:
    """The limit of a rule for things: this car's own, else the program's; in the program's unit.

    Of this car's limits one given for one of the very things goes before one given for all.

    Raises:
        NotComputedError: this car's own limit is in a unit that does not fit, or there is none and
            the program's own does not count.
    """
    default = DEFAULTS[key]
    ids = {subject.id for subject in subjects}
    general: Limited | None = None
    for ref in read.all(Limit):
        thing = read.thing(Limit, ref)
        if thing.rule != key:
            continue
        value = thing.value * _factor(read.label(ref), thing.unit, default.unit)
        source = thing.source or "this car's own"
        found = Limited(value, default.margin, default.unit, source)
        if thing.only_for is None:
            general = found
        elif thing.only_for.id in ids:
            return found
    if general is None and not default.counts:
        msg = f"no limit is given for {default.words}"
        raise NotComputedError(msg)
    return general or Limited(default.value, default.margin, default.unit, default.source)


def _factor(name: str, given: str, wanted: str) -> float:
    """What a figure in one unit is multiplied by to be in the program's own, mm or deg."""
    if given == wanted:
        return 1.0
    try:
        return float(unit_factor(given, ANGLE if wanted == "deg" else LENGTH))
    except ValueError as error:
        msg = f"the limit {name} is in «{given}», which is no measure of {wanted}"
        raise NotComputedError(msg) from error
