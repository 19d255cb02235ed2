"""Amounts of adjusters and suspects of a board in a builder's words; no widgets here."""

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from core.assess.adjusters import LENGTHENS, CornerEffects, Fitted
from core.assess.boards import BoardTold, Suspect, Way
from core.assess.setting_up import CornerSetUp, Setting
from core.quantities import format_signed, number
from core.suspension.adjusting import eccentric_deg
from core.suspension.figures import Figure

HALF = 0.5
NEAR = 1e-6
NO_CHANGE = "leave as drawn"
DONT_KNOW = "don't know"

FIGURES: Mapping[str, tuple[str, str, int]] = {
    "camber": ("camber", "°", 2),
    "toe_in": ("toe-in", "°", 2),
    "castor": ("castor", "°", 2),
    "bump_steer": ("bump steer, per 10", "°", 3),
    "half_track": ("half-track", "", 2),
    "wheelbase": ("wheelbase", "", 2),
}
"""What a figure is called here, its unit and its decimals."""

WANTED: Mapping[Figure, str] = {"camber": "camber", "toe_in": "toe-in"}


def label_words(label: str) -> str:
    """The name of a point as it reads best."""
    return label.replace("_", " ")


def amount_words(setting: Setting) -> str:
    """What to do with an adjuster, from how it is drawn."""
    if setting.is_left_alone:
        return NO_CHANGE
    how, size = setting.adjuster.how, number(abs(setting.amount), 1)
    if how in LENGTHENS:
        way = "longer" if setting.amount > 0 else "shorter"
        return f"{_turns(setting)} {way}" if setting.adjuster.has_step else f"{size} mm {way}"
    if how == "shims":
        return f"{'add' if setting.amount > 0 else 'take out'} {size} mm of shim"
    way = "along" if setting.amount > 0 else "back"
    return f"{size} mm {way}{_bolt(setting)}"


def _turns(setting: Setting) -> str:
    """Turns, halves as such."""
    return turns_words(abs(setting.steps))


def turns_words(turns: float) -> str:
    """How many turns, in words a hand can follow."""
    halves = round(turns / HALF)
    if abs(halves * HALF - turns) > NEAR:
        return f"{number(turns, 2)} turns"
    whole, half = divmod(halves, 2)
    told = f"{whole or ''}{'½' if half else ''}" or "0"
    return f"{told} turn{'' if halves in (1, 2) else 's'}"


def _bolt(setting: Setting) -> str:
    """How far the bolt of an eccentric is turned, where its throw is the same both ways."""
    room = setting.adjuster.room
    if setting.adjuster.how != "eccentric" or abs(room.most + room.least) > NEAR:
        return ""
    turned = float(eccentric_deg(np.array(abs(setting.amount)), room.most))
    return f", bolt {number(turned, 0)}°"


def range_words(setting: Setting) -> str:
    """What is left of an adjuster's range, or lacking."""
    room = setting.adjuster.room
    whole = number(room.most - room.least, 0)
    if setting.lacking:
        return f"{number(abs(setting.lacking), 1)} short"
    if setting.is_left_alone:
        return f"range {whole}"
    return f"{number(max(setting.left, 0.0), 1)} left of {whole}"


def thread_words(setting: Setting) -> str:
    """What is known of the thread; nothing where there is none."""
    if setting.adjuster.how not in LENGTHENS:
        return ""
    engaged, needed = setting.engaged, setting.adjuster.thread.needed
    if engaged is None and needed is None:
        return "thread engaged: don't know"
    has = DONT_KNOW if engaged is None else number(max(engaged, 0.0), 1)
    wants = DONT_KNOW if needed is None else number(needed, 1)
    short = ": too little" if is_thread_short(setting) else ""
    return f"thread engaged {has}, needed {wants}{short}"


def is_thread_short(setting: Setting) -> bool:
    """Whether less thread stays engaged than is needed."""
    engaged, needed = setting.engaged, setting.adjuster.thread.needed
    return engaged is not None and needed is not None and engaged < needed


def step_words(fitted: Fitted) -> str:
    """What one step of an adjuster is."""
    if not fitted.has_step:
        return "1 mm, its step is not entered"
    size = number(fitted.room.step, 2)
    if fitted.how == "shims":
        return f"a shim of {size} mm"
    return f"one {fitted.room.unit}, {size} mm"


def steps_words(known: tuple[Fitted, ...]) -> str:
    """What one step of each is, in a sentence."""
    if not any(each.has_step for each in known):
        return "One step is 1 mm here, for none is entered. From where they are drawn."
    told = (f"{each.number + 1}: {step_words(each)}" for each in known)
    return f"{'; '.join(told)}. From where they are drawn."


def summary_words(found: CornerSetUp) -> str:
    """How setting up stands, in a few words."""
    if found.runs_out:
        return f"run out by {number(max(abs(each.lacking) for each in found.runs_out), 1)}"
    if any(is_thread_short(each) for each in found.settings):
        return "too little thread"
    if not found.found.is_met_rounded:
        return "do not reach what is wanted"
    return f"reach what is wanted, {number(found.tightest.left, 1)} left"


def reached_words(found: CornerSetUp) -> str:
    """What the wheel comes to."""
    told = " and ".join(
        f"{number(value, 2)}° of {WANTED[name]}" for name, value in found.reached.items()
    )
    return f"comes to {told}"


def besides_words(found: CornerSetUp) -> str:
    """What else changes by it."""
    told = [
        f"{words} {format_signed(found.besides[key], digits)}{unit}"
        for key, (words, unit, digits) in FIGURES.items()
        if key in found.besides
    ]
    return f"Besides: {', '.join(told)}." if told else ""


def effect_rows(effects: CornerEffects) -> tuple[tuple[str, ...], ...]:
    """A row for each figure, a column for each adjuster."""
    rows: list[tuple[str, ...]] = []
    for key, (words, unit, digits) in FIGURES.items():
        if key in effects.keys:
            column = effects.per_step[:, effects.keys.index(key)].tolist()
            rows.append((words, *(_effect(value, unit, digits) for value in column)))
    return tuple(rows)


def _effect(value: float, unit: str, digits: int) -> str:
    return DONT_KNOW if np.isnan(value) else f"{format_signed(value, digits)}{unit}"


_OFF: Mapping[Way, tuple[str, str]] = {
    "up": ("too high", "too low"),
    "ahead": ("too far ahead", "too far back"),
    "outboard": ("too far out", "too far in"),
    "length": ("too long", "too short"),
}
_MEND: Mapping[Way, tuple[str, str]] = {
    "up": ("raise it", "lower it"),
    "ahead": ("move it ahead", "move it back"),
    "outboard": ("move it out", "move it in"),
    "length": ("lengthen it", "shorten it"),
}


class SuspectWords(NamedTuple):
    """A suspect: what it is, by how much it is off, and what puts it right."""

    name: str
    off: str
    mend: str


def suspect_words(suspect: Suspect, label: str) -> SuspectWords:
    """What may be off, by how much, and what would put it right.

    Args:
        suspect: of a board.
        label: of the point.
    """
    name = f"{suspect.link.replace('_', ' ')}, length" if suspect.link else label_words(label)
    off = f"{number(abs(suspect.off), 1)} {_OFF[suspect.way][suspect.off < 0]}"
    if suspect.is_at_limit:
        return SuspectWords(name, off, "more than is believed")
    mend = f"{_MEND[suspect.way][suspect.correction < 0]} by {number(abs(suspect.correction), 1)}"
    return SuspectWords(name, off, f"±{number(suspect.uncertainty, 1)} · {mend}{_steps(suspect)}")


def _steps(suspect: Suspect) -> str:
    if suspect.steps is None:
        return " in shims" if suspect.way != "length" else ""
    if suspect.way == "length":
        return f", {turns_words(abs(suspect.steps))}"
    return f", {number(abs(suspect.steps), 1)} shims {'in' if suspect.steps > 0 else 'out'}"


def verdict_words(told: BoardTold) -> str:
    """What a round of readings tells, in a sentence."""
    alike = len(told.alike)
    return {
        "too few readings": "Too few readings to tell anything.",
        "nothing shown": "The readings fit the corner as drawn: nothing is shown to be off.",
        "none explains": "Nothing alone explains these readings: read them again, or look for two "
        "things that are off.",
        "cannot tell": "These readings do not tell one end from another: read at more heights, "
        "further apart.",
        "several": f"{alike} would explain the readings about as well, and cannot be told apart.",
        "one": "One thing explains the readings, and nothing else does.",
    }[told.verdict]
