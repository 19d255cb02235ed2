"""What the things of one car must be together: each once, each in its own place."""

from collections import Counter
from collections.abc import Iterable, Iterator

from core.document.base import Entity, Ref, number_of
from core.document.errors import Fault
from core.document.lookup import Lookup, entities, sides
from core.document.project import KINDS, Document
from core.document.records import Car
from core.document.sides import on_side
from core.document.steel import Bracket, Point, Tube


def identity_faults(document: Document) -> Iterator[Fault]:
    """Ids and names that two things share, and a second car."""
    yield from repeated_ids(entities(document))
    for field in KINDS:
        yield from repeated_names(getattr(document, field))
    for second in document.cars[1:]:
        yield Fault(second.id, "id", "a document describes one car, and this is another")
    yield from number_faults(document, entities(document))


def repeated_ids(things: Iterable[Entity]) -> Iterator[Fault]:
    """Things whose id another one before them has."""
    seen: set[str] = set()
    for thing in things:
        if thing.id in seen:
            yield Fault(thing.id, "id", f"two things have the id {thing.id}")
        seen.add(thing.id)


def repeated_names(things: Iterable[Entity]) -> Iterator[Fault]:
    """Things of one kind whose name another one before them has."""
    seen: set[str] = set()
    for thing in things:
        if thing.name in seen:
            words = f"two things of one kind are called «{thing.name}»; rename one of them"
            yield Fault(thing.id, "name", words)
        seen.add(thing.name)


def number_faults(document: Document, things: Iterable[Entity]) -> Iterator[Fault]:
    """Ids without a number, but for the car's, and ids that a new thing might be given."""
    for thing in things:
        number = number_of(thing.id)
        if isinstance(thing, Car):
            if thing.id != "car":
                yield Fault(thing.id, "id", f"there is one car, so its id is «car», not {thing.id}")
        elif number is None:
            yield Fault(thing.id, "id", f"the id {thing.id} needs a number, such as {thing.id}1")
        elif number >= document.next_number:
            words = f"next_number must be above the number in every id, such as {thing.id}"
            yield Fault("", "next_number", words)


def car_faults(document: Document) -> Iterator[Fault]:
    """Things that each bear out what they say, and yet cannot be in one car together."""
    yield from _axle_faults(document)
    yield from _corner_faults(document)
    yield from _shaft_faults(document)
    yield from _limit_faults(document)
    yield from _hot_faults(document)


def _axle_faults(document: Document) -> Iterator[Fault]:
    ends = Counter[str]()
    for axle in document.axles:
        ends[axle.end] += 1
        if ends[axle.end] > 1:
            words = f"{axle.name} is a second {axle.end} axle; the car has one at each end"
            yield Fault(axle.id, "end", words)


def _corner_faults(document: Document) -> Iterator[Fault]:
    """An axle has one pair of corners, or at most two single ones."""
    wheels = Counter[str]()
    for corner in document.corners:
        wheels[corner.axle.id] += 2 if corner.pair else 1
        if wheels[corner.axle.id] > 2:
            words = f"{corner.name}: its axle has its two corners already"
            yield Fault(corner.id, "axle", words)


def _shaft_faults(document: Document) -> Iterator[Fault]:
    driven: set[Ref] = set()
    for shaft in document.drive_shafts:
        for ref in sides(shaft):
            corner = on_side(shaft, ref.side).corner
            if corner in driven:
                yield Fault(shaft.id, "corner", f"{shaft.name}: its corner has a shaft already")
            driven.add(corner)


def _limit_faults(document: Document) -> Iterator[Fault]:
    known: set[tuple[str, Ref | None]] = set()
    for limit in document.limits:
        if (limit.rule, limit.only_for) in known:
            words = f"{limit.name} is a second limit for «{limit.rule}»; keep one of them"
            yield Fault(limit.id, "rule", words)
        known.add((limit.rule, limit.only_for))


def _hot_faults(document: Document) -> Iterator[Fault]:
    """A hot solid by a name that no engine has would be hot no longer, and nothing would say so."""
    solids = {solid.name for unit in document.power_units for solid in unit.solids}
    for exhaust in document.exhausts if document.power_units else ():
        for name in exhaust.unit_solids:
            if name not in solids:
                words = f"{exhaust.name} calls «{name}» hot, but no engine has a solid of that name"
                yield Fault(exhaust.id, "unit_solids", words)


def circle_faults(document: Document, lookup: Lookup) -> Iterator[Fault]:
    """Tubes whose places follow one another round in a circle."""
    rests_on = {
        ref: tuple(_tubes_under(tube, ref, lookup))
        for tube in document.tubes
        for ref in sides(tube)
    }
    done: set[Ref] = set()
    for start in rests_on:
        circle = _find_circle(start, rests_on, done)
        if circle:
            yield Fault(start.id, "start", _circle_words([lookup.label(ref) for ref in circle]))
            return


def _circle_words(names: list[str]) -> str:
    if len(names) == 1:
        return f"{names[0]} has a joint that is a place along itself; give it coordinates"
    joined = " and ".join(names)
    return f"{joined} have joints that are places along one another; give one its coordinates"


def bracket_faults(document: Document, lookup: Lookup) -> Iterator[Fault]:
    """Brackets that stand on one another round in a circle, so that the frame carries none."""
    rests_on: dict[Ref, tuple[Ref, ...]] = {}
    for bracket in document.brackets:
        for ref in sides(bracket):
            piece = on_side(bracket, ref.side)
            rests_on[ref] = (*rests_on.get(ref, ()), piece.on)
            rests_on[piece.carries] = (*rests_on.get(piece.carries, ()), ref)
    done: set[Ref] = set()
    for start in rests_on:
        circle = _find_circle(start, rests_on, done)
        brackets = [ref for ref in circle if isinstance(lookup.by_id[ref.id], Bracket)]
        if brackets:
            words = _carrying_words([lookup.label(ref) for ref in brackets])
            yield Fault(brackets[0].id, "on", words)
            return


def _carrying_words(names: list[str]) -> str:
    if len(names) == 1:
        return f"{names[0]} stands on itself; let it stand on the frame"
    joined = " and ".join(names)
    return f"{joined} carry one another; let one of them stand on the frame"


def _tubes_under(tube: Tube, ref: Ref, lookup: Lookup) -> Iterator[Ref]:
    piece = on_side(tube, ref.side)
    for point_ref in (piece.start, piece.end, *(bend.point for bend in piece.bends)):
        point = lookup.by_id[point_ref.id]
        if isinstance(point, Point) and _may_follow(point):
            along = on_side(point, point_ref.side).along
            if along is not None:
                yield along.tube


def _may_follow(point: Point) -> bool:
    """Whether either side may follow a tube; most points stand by themselves."""
    return point.along is not None or any(own.of.startswith("along") for own in point.right)


def _find_circle(start: Ref, rests_on: dict[Ref, tuple[Ref, ...]], done: set[Ref]) -> list[Ref]:
    """The tubes of a circle reached from `start`; a walk in depth with its trail."""
    trail: dict[Ref, None] = {}  # in order, and quick to ask
    todo: list[tuple[Ref, bool]] = [(start, False)]
    while todo:
        ref, leaving = todo.pop()
        if leaving:
            del trail[ref]
            done.add(ref)
        elif ref in trail:
            walked = list(trail)
            return walked[walked.index(ref) :]
        elif ref not in done:
            trail[ref] = None
            todo.append((ref, True))
            todo += [(under, False) for under in rests_on.get(ref, ())]
    return []
