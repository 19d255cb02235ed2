"""Edits chosen by numbers, for tests that must hold after any edits whatever."""

from collections.abc import Callable, Sequence
from typing import NamedTuple, TypeVar

from hypothesis import strategies as st

from core.document.base import Entity, Fact, Ref, Source, SteelState, Vec3
from core.document.lookup import Lookup, entities, sides
from core.document.paths import number_paths, value_at
from core.document.project import Document
from core.document.sides import on_side
from core.document.steel import Along, Point, Section, Tube
from core.edits.acceptances import accept, withdraw
from core.edits.limits import reset_limit, set_limit
from core.edits.notes import write_note
from core.edits.points import (
    measure_point,
    merge_points,
    move_point,
    set_loose,
    slide_point,
    tie_to_tube,
)
from core.edits.refusals import EditRefusedError
from core.edits.remedies import apply_remedy
from core.edits.things import delete, duplicate, make, mirror, rename
from core.edits.tube_places import place_on_tube
from core.edits.tubes import (
    draw_tube,
    insert_bend,
    join_tubes,
    remove_bend,
    set_section,
    set_state,
    split_tube,
)
from core.edits.unit import move_unit, settle_width
from core.edits.values import change, hold, rejoin, release, set_fact, set_free
from core.engine.address import Address
from core.engine.finding import Finding

T = TypeVar("T")


class NothingToEditError(Exception):
    """The document holds nothing that an edit could be done to."""


class Choice(NamedTuple):
    """Numbers that choose an edit and what it is done to, whatever the document holds."""

    edit: int
    first: int
    second: int
    third: int
    by: float

    def of(self, things: Sequence[T], number: int = 0) -> T:
        """One of some things, by the first, second or third number."""
        if not things:
            raise NothingToEditError
        return things[(self.first, self.second, self.third)[number] % len(things)]


class Place(NamedTuple):
    """Where an edit is to be done."""

    document: Document
    choice: Choice
    findings: Sequence[Finding]

    def pieces(self, kind: type[Entity]) -> list[Ref]:
        """Both sides of every thing of a kind."""
        return [ref for t in entities(self.document) if isinstance(t, kind) for ref in sides(t)]

    def point(self, number: int = 0) -> Ref:
        return self.choice.of(self.pieces(Point), number)

    def tube(self, number: int = 0) -> Ref:
        return self.choice.of(self.pieces(Tube), number)

    def thing(self) -> Entity:
        return self.choice.of(list(entities(self.document)))

    def address(self) -> Address:
        """Any number of any thing on any side."""
        ref = self.choice.of([r for t in entities(self.document) for r in sides(t)])
        piece = on_side(Lookup(self.document).by_id[ref.id], ref.side)
        return Address(ref, self.choice.of(list(number_paths(piece)), 1))

    def name(self) -> str:
        return f"n{self.document.next_number}.{self.choice.third % 7}"


def _change_number(at: Place) -> Document:
    address = at.address()
    piece = on_side(Lookup(at.document).by_id[address.ref.id], address.ref.side)
    value = value_at(piece, address.path)
    moved = (
        value + round(at.choice.by) if isinstance(value, int) else float(str(value)) + at.choice.by
    )
    return change(at.document, address, moved)


def _with_held_numbers_free(at: Place) -> Document:
    freed = set_free(at.document, at.address())
    return _change_number(at._replace(document=freed))


def _move_point(at: Place) -> Document:
    return move_point(at.document, at.point(), _near(at))


def _near(at: Place) -> Vec3:
    ref = at.point()
    piece = on_side(Lookup(at.document).by_id[ref.id], ref.side)
    old = piece.at if isinstance(piece, Point) and piece.at else Vec3(0.0, 0.0, 0.0)
    axis = "xyz"[at.choice.second % 3]
    return old._replace(**{axis: getattr(old, axis) + at.choice.by})


def _tie(at: Place) -> Document:
    ref, tube = at.point(), at.tube(1)
    place = Vec3(at.choice.by, 100.0, 200.0)
    return tie_to_tube(at.document, ref, place_on_tube(at.document, tube, place))


def _follow_in_the_middle(at: Place) -> Document:
    """A new mark on a tube, so that there is something to slide, cut at and set loose."""
    tube = at.tube()
    along = Along(
        tube=tube, distance=abs(at.choice.by) * 3.0, end=at.choice.of(("start", "end"), 1)
    )
    is_pair = tube.side != "one"
    if tube.side == "right":
        along = Along(tube=tube.mirrored(), distance=along.distance, end=along.end)
    return make(at.document, Point, at.name(), along=along, pair=is_pair)[0]


def _cut_in_the_middle(at: Place) -> Document:
    marked = _follow_in_the_middle(at)
    point = marked.points[-1]
    side = at.tube().side
    return split_tube(marked, at.tube(), Ref(point.id, side), f"{at.name()}b")[0]


def _join(at: Place) -> Document:
    tubes = [(ref, on_side(tube, ref.side)) for tube in at.document.tubes for ref in sides(tube)]
    meeting = [(one, other) for one, a in tubes for other, b in tubes if a.end == b.start]
    return join_tubes(at.document, *at.choice.of(meeting))


def _followers(at: Place) -> list[Ref]:
    return [ref for point in at.document.points if point.along for ref in sides(point)]


def _make_point(at: Place) -> Document:
    where = Vec3(at.choice.by * 10.0, float(at.choice.second % 900), float(at.choice.third % 700))
    return make(at.document, Point, at.name(), at=where, pair=bool(at.choice.first % 2))[0]


def _draw(at: Place) -> Document:
    section = at.choice.of([Ref(s.id) for s in at.document.sections], 2)
    start, end = at.point(), at.point(1)
    return draw_tube(at.document, at.name(), section, start, end)[0]


def _set_fact(at: Place) -> Document:
    sources: tuple[Source, ...] = ("guessed", "chosen", "measured", "in_hand")
    fact = Fact(source=at.choice.of(sources, 2), uncertainty=abs(at.choice.by), how="tape")
    return set_fact(at.document, at.address(), fact)


def _set_state(at: Place) -> Document:
    states: tuple[SteelState, ...] = ("planned", "cut", "tacked", "welded", "spoilt")
    return set_state(at.document, at.tube(), at.choice.of(states, 1))


def _set_limit(at: Place) -> Document:
    rule = at.choice.of(("unit_gap", "drop_gap", "touch", "bracket_reach", "joint_apart"))
    return set_limit(at.document, rule, abs(at.choice.by), "tried")


def _accept(at: Place) -> Document:
    return accept(at.document, at.choice.of(at.findings), "seen and good enough", "me", "today")


def _withdraw(at: Place) -> Document:
    accepted = at.choice.of(at.document.acceptances)
    return withdraw(at.document, accepted.rule, accepted.subjects)


def _remedy(at: Place) -> Document:
    remedies = [remedy for finding in at.findings for remedy in finding.remedies]
    return apply_remedy(at.document, at.choice.of(remedies))


def _release(at: Place) -> Document:
    thing = at.choice.of([thing for thing in entities(at.document) if thing.pair])
    return release(at.document, Ref(thing.id, "right"), at.choice.of(list(number_paths(thing)), 1))


def _rejoin(at: Place) -> Document:
    paths = [(Ref(t.id, "right"), own.of) for t in entities(at.document) for own in t.right]
    return rejoin(at.document, *at.choice.of(paths))


def _move_unit(at: Place) -> Document:
    unit = at.choice.of(at.document.power_units)
    return move_unit(at.document, Ref(unit.id), Vec3(0.0, at.choice.by, 0.0))


def _settle(at: Place) -> Document:
    corners = [ref for c in at.document.corners for ref in sides(c)]
    return settle_width(at.document, at.choice.of(corners), at.choice.by)


def _insert_bend(at: Place) -> Document:
    radius = (None, 100.0, 80.0)[at.choice.third % 3]
    return insert_bend(at.document, at.tube(), at.point(1), at.choice.third % 2, radius)


EDITS: tuple[Callable[[Place], Document], ...] = (
    _change_number,
    _with_held_numbers_free,
    _move_point,
    _make_point,
    _draw,
    _tie,
    _follow_in_the_middle,
    _cut_in_the_middle,
    _join,
    _insert_bend,
    lambda at: remove_bend(at.document, at.tube(), at.choice.second % 3),
    lambda at: slide_point(at.document, at.choice.of(_followers(at)), abs(at.choice.by) * 5.0),
    lambda at: set_loose(at.document, at.choice.of(_followers(at))),
    lambda at: merge_points(at.document, at.point(), at.point(1)),
    lambda at: measure_point(at.document, at.point(), _near(at), 0.5, "tape"),
    lambda at: rename(at.document, at.thing().id, at.name()),
    lambda at: duplicate(at.document, at.thing().id, at.name())[0],
    lambda at: mirror(at.document, at.thing().id),
    lambda at: delete(at.document, at.thing().id, with_dependents=True),
    lambda at: delete(at.document, at.thing().id),
    _release,
    _rejoin,
    _set_fact,
    lambda at: set_free(at.document, at.address()),
    lambda at: hold(at.document, at.address(), "it fits"),
    _set_state,
    lambda at: set_section(
        at.document, [at.tube(), at.tube(1)], at.choice.of(at.pieces(Section), 2)
    ),
    _set_limit,
    lambda at: reset_limit(at.document, at.choice.of(at.document.limits).rule),
    lambda at: write_note(at.document, at.name(), (sides(at.thing())[0],))[0],
    _accept,
    _withdraw,
    _remedy,
    _move_unit,
    _settle,
)


def tried(document: Document, choice: Choice, findings: Sequence[Finding] = ()) -> Document:
    """The document after the chosen edit, or the very same if it was refused."""
    try:
        return EDITS[choice.edit % len(EDITS)](Place(document, choice, findings))
    except (EditRefusedError, NothingToEditError):
        return document


def choices() -> st.SearchStrategy[Choice]:
    """Any edit of anything."""
    number = st.integers(0, 499)
    steps = st.sampled_from((0.0, 1.0, -1.0, 12.5, -40.0, 130.0)) | st.floats(-200.0, 200.0)
    return st.builds(Choice, st.integers(0, len(EDITS) - 1), number, number, number, steps)
