"""Figures of the springs of both axles side by side, and why one is not known."""

from collections.abc import Callable, Iterator
from typing import NamedTuple

import numpy as np

from app.session import State
from app.widgets.asking import ask
from app.widgets.figure_table import Table
from core.assess.bars import RollStiffness, roll_split, roll_stiffness
from core.assess.pairs import axle_at, pair_of
from core.assess.spring_lengths import left_to_bind, pressed_at_droop, stop_met
from core.assess.spring_parts import damper_ratio, springs_of
from core.assess.springs import rates_at_design, ride
from core.assess.weights import sprung_load
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.running_gear import Corner, Tyre
from core.engine.address import Address
from core.engine.cells import NotComputedError
from core.quantities import format_signed, number

NOT_KNOWN = "?"
NONE = "\N{EN DASH}"
ENDS = ("front", "rear")


class Row(NamedTuple):
    """One figure of each wheel.

    Attributes:
        name: what it is called, with its unit.
        of: gives it as it is shown, of a corner.
    """

    name: str
    of: Callable[[State, Ref], str]


def _spring_rate(state: State, corner: Ref) -> str:
    found = ask(state, springs_of, corner)
    if found.coil is None:
        assert found.bar_nm_per_deg is not None  # one of the two there is
        return f"{number(found.bar_nm_per_deg, 1)} N m/°"
    return number(found.coil, 1)


def _ratio(state: State, corner: Ref) -> str:
    if ask(state, springs_of, corner).coil is None:
        return NONE
    return number(ask(state, damper_ratio, corner), 3)


def _rate(state: State, corner: Ref) -> str:
    return number(ask(state, rates_at_design, corner).rate, 1)


def _load(state: State, corner: Ref) -> str:
    return number(ask(state, sprung_load, corner), 0)


def _hz(state: State, corner: Ref) -> str:
    hz = ask(state, ride, corner).road_hz
    if hz is None:
        name = Lookup(state.document).label(corner)
        raise NotComputedError(f"the stiffness of the tyre of {name} is not known")
    return _frequency(hz)


def _springs_hz(state: State, corner: Ref) -> str:
    return _frequency(ask(state, ride, corner).springs_hz)


def _frequency(hz: float) -> str:
    return "none" if np.isnan(hz) else number(hz, 2)


def _sits(state: State, corner: Ref) -> str:
    off = ask(state, ride, corner).sits_off
    return NONE if off is None else format_signed(off, 1)


def _pressed(state: State, corner: Ref) -> str:
    pressed = ask(state, pressed_at_droop, corner)
    return number(pressed, 1) if pressed >= 0.0 else f"loose {number(-pressed, 1)}"


def _bind(state: State, corner: Ref) -> str:
    return number(ask(state, left_to_bind, corner), 1)


def _stop(state: State, corner: Ref) -> str:
    met = ask(state, stop_met, corner).at
    return "not met" if met is None else number(met, 0)


ROWS = (
    Row("spring rate, N/mm", _spring_rate),
    Row("damper to wheel", _ratio),
    Row("wheel rate, N/mm", _rate),
    Row("sprung load, N", _load),
    Row("ride on tyres, Hz", _hz),
    Row("springs alone, Hz", _springs_hz),
    Row("stands higher, mm", _sits),
    Row("pressed at droop", _pressed),
    Row("to coil bind, mm", _bind),
    Row("bump stop at, mm", _stop),
)
"""What is told of each wheel."""


class Told(NamedTuple):
    """The table, and what is to be said below it.

    Attributes:
        table: figures of both axles; of left and right where they differ.
        unknown: why figures are not known, each once.
        notes: how the figures are reckoned.
    """

    table: Table
    unknown: tuple[str, ...]
    notes: tuple[str, ...]


def told(state: State, about: str) -> Told:
    """All figures of both axles; why they are not known, of one end.

    Args:
        state: the car.
        about: front or rear.
    """
    whys: dict[str, None] = {}
    rows: list[tuple[str, ...]] = [
        (row.name, *(_cell(state, row, end, whys if end == about else {}) for end in ENDS))
        for row in ROWS
    ]
    rows += _roll(state, about, whys)
    return Told(Table(("", *ENDS), tuple(rows), strong=-1), tuple(whys), tuple(_notes(state)))


def _cell(state: State, row: Row, end: str, whys: dict[str, None]) -> str:
    """Of both wheels of an axle; once where they are alike."""
    try:
        pair = ask(state, pair_of, ask(state, axle_at, end))
    except NotComputedError as error:
        whys.setdefault(str(error))
        return NOT_KNOWN
    sides = [_one(state, row, corner, whys) for corner in pair]
    return sides[0] if sides[0] == sides[1] else "/".join(sides)


def _one(state: State, row: Row, corner: Ref, whys: dict[str, None]) -> str:
    try:
        return row.of(state, corner)
    except NotComputedError as error:
        whys.setdefault(_said_once(state, str(error), corner))
        return NOT_KNOWN


def _said_once(state: State, why: str, corner: Ref) -> str:
    """A reason with the corner's name in place of that of one side, so that both sides agree."""
    lookup = Lookup(state.document)
    return why.replace(lookup.label(corner), lookup.by_id[corner.id].name)


def _for_both(state: State, why: str, end: str) -> str:
    try:
        pair = ask(state, pair_of, ask(state, axle_at, end))
    except NotComputedError:
        return why
    for corner in pair:
        why = _said_once(state, why, corner)
    return why


def _roll(state: State, about: str, whys: dict[str, None]) -> Iterator[tuple[str, ...]]:
    """Roll stiffness, what bars add, and how it is split."""
    found: list[RollStiffness | None] = []
    for end in ENDS:
        try:
            found.append(ask(state, roll_stiffness, ask(state, axle_at, end)))
        except NotComputedError as error:
            if end == about:
                whys.setdefault(_for_both(state, str(error), end))
            found.append(None)
    yield (
        "roll, N m/°",
        *(NOT_KNOWN if each is None else number(each.whole, 0) for each in found),
    )
    if any(each is not None and each.bar is not None for each in found):
        bars = [None if each is None else each.bar for each in found]
        yield ("of it by the bar", *(NONE if bar is None else number(bar, 0) for bar in bars))
    try:
        share = 100.0 * ask(state, roll_split)
    except NotComputedError:
        return
    yield ("share of roll, %", number(share, 0), number(100.0 - share, 0))


INEXACT = (
    "Wheel rate {ends} is spring rate times ratio squared: what the force in the spring adds is "
    "not known before the load on the wheel is, or the spring's lengths."
)
STIFF = "Roll {ends} takes the tyres for stiff: enter what they give."


def _notes(state: State) -> Iterator[str]:
    inexact: list[str] = []
    stiff: list[str] = []
    for end in ENDS:
        try:
            axle = ask(state, axle_at, end)
            if not all(ask(state, rates_at_design, ref).by for ref in ask(state, pair_of, axle)):
                inexact.append(end)
            if not ask(state, roll_stiffness, axle).has_tyres:
                stiff.append(end)
        except NotComputedError:
            continue
    for words, ends in ((INEXACT, inexact), (STIFF, stiff)):
        if ends:
            yield words.format(ends=f"at the {' and the '.join(ends)}")


WANTED = (
    ("damper", "the damper"),
    ("damper.spring_rate", "the spring rate"),
    ("damper.spring_seats", "eyes to spring seats"),
    ("damper.spring_free_length", "the spring's free length"),
    ("damper.spring_block_length", "its length with coils closed"),
    ("damper.bump_stop", "the bump stop"),
    ("damper.closed_length", "the damper's closed length"),
    ("damper.open_length", "the damper's open length"),
    ("unsprung_mass_kg", "the unsprung mass"),
)
"""What of a corner may be lacking, in the order in which it is asked for, and its words."""


def lacking(state: State, corner: Ref) -> tuple[tuple[Address, str], ...]:
    """What is not entered of a corner's springs, with the words of a button that enters it."""
    thing = Lookup(state.document).by_id[corner.id]
    assert isinstance(thing, Corner)
    found = [(Address(corner, path), words) for path, words in WANTED if _is_lacking(thing, path)]
    tyre = None if thing.tyre is None else Lookup(state.document).by_id[thing.tyre.id]
    if isinstance(tyre, Tyre) and tyre.vertical_stiffness is None:
        found.append((Address(Ref(tyre.id), "vertical_stiffness"), "the tyre's stiffness"))
    return tuple(found)


def _is_lacking(corner: Corner, path: str) -> bool:
    step, _, field = path.partition(".")
    part = getattr(corner, step)
    if not field:
        return part is None and (step != "damper" or corner.torsion_bar is None)
    if part is None:
        return False
    has_bar = corner.torsion_bar is not None and corner.damper is not None
    if has_bar and field.startswith("spring") and part.spring_rate is None:
        return False  # on a torsion bar alone no coil is asked for
    return getattr(part, field) is None


def summary(state: State, end: str) -> str:
    """Wheel rate and ride frequency of an axle in one line."""
    whys: dict[str, None] = {}
    rate, hz = (_cell(state, Row("", of), end, whys) for of in (_rate, _hz))
    if NOT_KNOWN in rate:
        return "don't know"
    told_hz = f", {hz} Hz" if NOT_KNOWN not in hz else ", ride: don't know"
    return f"{rate} N/mm{told_hz}"
