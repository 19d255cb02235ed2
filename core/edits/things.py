"""Making, naming, mirroring and removing things of every kind."""

from collections.abc import Iterator
from typing import Any, NamedTuple, TypeVar

import msgspec

from core.document.base import Because, Entity, Fact, Ref, Side, kind_name
from core.document.layers import add_thing, replace_thing, without_things
from core.document.lookup import Lookup, entities
from core.document.project import Document
from core.document.records import Acceptance
from core.document.references import Reference, references
from core.document.rules import BrokenRulesError, check_change
from core.document.sides import mirror_thing
from core.edits.refusals import EditRefusedError

E = TypeVar("E", bound=Entity)


def kept_to_rules(before: Document, after: Document) -> Document:
    """`after`, if its things do not contradict one another.

    Raises:
        EditRefusedError: with the first contradiction.
    """
    faults = check_change(before, after)
    if faults:
        raise EditRefusedError(faults[0].words) from BrokenRulesError(faults)
    return after


def thing_of(document: Document, thing_id: str) -> Entity:
    """The thing with an id.

    Raises:
        EditRefusedError: it is not there.
    """
    thing = Lookup(document).by_id.get(thing_id)
    if thing is None:
        msg = f"there is no {thing_id} in this car"
        raise EditRefusedError(msg)
    return thing


def make(document: Document, kind: type[E], name: str, **fields: Any) -> tuple[Document, E]:
    """The document with a new thing of a kind, and the thing, under an id never used before.

    Args:
        document: where to put it.
        kind: its kind, such as Point.
        name: what it is called.
        **fields: its values; those left out have the kind's own defaults.

    Raises:
        EditRefusedError: a value is missing or does not fit, or a rule is broken.
    """
    number = document.next_number
    try:
        thing = kind(id=f"{kind_name(kind)}{number}", name=name, **fields)
        thing = msgspec.convert(msgspec.to_builtins(thing), kind)
    except (ValueError, TypeError) as error:
        msg = f"{kind_name(kind).replace('_', ' ')} {name}: {error}"
        raise EditRefusedError(msg) from error
    counted = msgspec.structs.replace(document, next_number=number + 1)
    return kept_to_rules(document, add_thing(counted, thing)), thing


def rename(document: Document, thing_id: str, name: str) -> Document:
    """The document with a thing called otherwise; its id stays.

    Raises:
        EditRefusedError: the name is empty, too long, or taken.
    """
    thing = thing_of(document, thing_id)
    try:
        renamed = msgspec.structs.replace(thing, name=name)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return kept_to_rules(document, replace_thing(document, renamed))


def duplicate(document: Document, thing_id: str, name: str) -> tuple[Document, Entity]:
    """The document with a copy of a thing under another name, and the copy; facts are not copied."""
    thing = thing_of(document, thing_id)
    own = ("id", "name", "facts")
    fields = {f: getattr(thing, f) for f in thing.__struct_fields__ if f not in own}
    return make(document, type(thing), name, **fields)


class Dependent(NamedTuple):
    """A thing that refers to another, where, and whether it cannot be without it."""

    ref: Ref
    name: str
    path: str
    needs_it: bool


def dependents(document: Document, thing_id: str) -> list[Dependent]:
    """Everything that refers to a thing."""
    return [
        Dependent(Ref(thing.id), thing.name, found.path, found.required)
        for thing in entities(document)
        if thing.id != thing_id
        for found in _all_references(thing)
        if found.ref.id == thing_id
    ]


def _all_references(thing: Entity) -> Iterator[Reference]:
    yield from references(thing)
    for own in thing.right:
        if isinstance(own.value, Ref):
            yield Reference(f"right.{own.of}", own.value, (), required=False)


def delete(document: Document, thing_id: str, *, with_dependents: bool = False) -> Document:
    """The document without a thing.

    Args:
        document: where it is.
        thing_id: what to remove.
        with_dependents: what cannot be without it goes as well; what merely names it lets go.

    Raises:
        EditRefusedError: others depend on it, by name, and `with_dependents` was not asked for.
    """
    thing = thing_of(document, thing_id)
    resting = dependents(document, thing_id)
    if resting and not with_dependents:
        names = ", ".join(sorted({d.name for d in resting})[:8])
        more = "" if len({d.name for d in resting}) <= 8 else " and others"
        msg = f"{thing.name} is used by {names}{more}; remove it together with what depends on it"
        raise EditRefusedError(msg)
    return kept_to_rules(document, _without(document, {thing_id}))


def goes_with(document: Document, thing_id: str) -> set[str]:
    """Ids of everything that goes when a thing goes: itself and all that cannot be without it."""
    going = {thing_id}
    while True:
        left = without_things(document, frozenset(going))
        more = {thing.id for thing in entities(left) if _cannot_stay(thing, going)}
        if not more:
            return going
        going |= more


def _without(document: Document, ids: set[str]) -> Document:
    going: set[str] = set()
    for thing_id in ids:
        going |= goes_with(document, thing_id)
    left = without_things(document, frozenset(going))
    for thing in list(entities(left)):
        freed = _let_go(thing, going)
        if freed is not None and freed is not thing:
            left = replace_thing(left, freed)
    return left


def _cannot_stay(thing: Entity, going: set[str]) -> bool:
    return _let_go(thing, going) is None


def _let_go(thing: Entity, going: set[str]) -> Entity | None:
    """The thing without its references to what goes; nothing if it cannot be without them."""
    if isinstance(thing, Acceptance) and any(s.id in going for s in thing.subjects):
        return None
    if any(found.required and found.ref.id in going for found in references(thing)):
        return None
    changed = {
        field: cut
        for field in thing.__struct_fields__
        if field not in ("id", "name", "right", "facts")
        and (cut := _cut(getattr(thing, field), going)) is not (getattr(thing, field))
    }
    right = tuple(o for o in thing.right if not (isinstance(o.value, Ref) and o.value.id in going))
    facts = tuple(_without_reasons(fact, going) for fact in thing.facts)
    if not changed and len(right) == len(thing.right) and facts == thing.facts:
        return thing
    try:
        return msgspec.structs.replace(thing, **changed, right=right, facts=facts)
    except ValueError:  # for instance a sheet left with two corners
        return None


def _without_reasons(fact: Fact, going: set[str]) -> Fact:
    kept: tuple[Because, ...] = tuple(b for b in fact.because if b.ref.id not in going)
    return fact if len(kept) == len(fact.because) else msgspec.structs.replace(fact, because=kept)


_GONE = object()


def _cut(value: Any, going: set[str]) -> Any:  # noqa: ANN401 - walks values of any kind
    """A value without references to what goes: optional ones become none, listed ones drop out."""
    cut = _cut_inside(value, going)
    return None if cut is _GONE else cut


def _cut_inside(value: Any, going: set[str]) -> Any:  # noqa: ANN401 - walks values of any kind
    if isinstance(value, Ref):
        return _GONE if value.id in going else value
    if isinstance(value, tuple) and not hasattr(value, "_fields"):
        items = [_cut_inside(item, going) for item in value]
        kept = tuple(item for item in items if item is not _GONE)
        unchanged = len(kept) == len(value) and all(
            a is b for a, b in zip(kept, value, strict=True)
        )
        return value if unchanged else kept
    if isinstance(value, msgspec.Struct):
        return _cut_struct(value, going)
    return value


def _cut_struct(value: msgspec.Struct, going: set[str]) -> Any:  # noqa: ANN401 - or `_GONE`
    defaults = msgspec.structs.fields(type(value))
    changed: dict[str, Any] = {}
    for info in defaults:
        old = getattr(value, info.name)
        new = _cut_inside(old, going)
        if new is _GONE:
            if info.required:
                return _GONE
            new = None
        if new is not old:
            changed[info.name] = new
    return msgspec.structs.replace(value, **changed) if changed else value


def mirror(document: Document, thing_id: str) -> Document:
    """The document with a single thing made a left/right pair.

    The piece that was there keeps its place: it becomes the left one if it stands to the left of
    the centre plane or refers to left pieces, else the right one. All references follow.

    Raises:
        EditRefusedError: it is a pair already, or it would lie on its own mirror image.
    """
    thing = thing_of(document, thing_id)
    if thing.pair:
        msg = f"{thing.name} is a left/right pair already"
        raise EditRefusedError(msg)
    mirrored = mirror_thing(thing)
    if mirrored == thing or mirrored is thing:
        msg = (
            f"{thing.name} lies on the centre plane or hangs on single things only, so its mirror "
            "image is itself; mirror what it refers to first"
        )
        raise EditRefusedError(msg)
    side = side_of(thing)
    left = thing if side == "left" else mirrored
    paired = replace_thing(document, msgspec.structs.replace(left, pair=True))
    return kept_to_rules(document, _refer_to_side(paired, thing_id, side))


def side_of(thing: Entity) -> Side:
    """The side a single thing stands on: by its first place off the centre plane, or reference."""
    for path in ("at.y", "place.y", "box.low.y", "head_place.y", "hip_point.y"):
        y = _number(thing, path)
        if y:
            return "left" if y > 0 else "right"
    sides = [found.ref.side for found in references(thing) if found.ref.side != "one"]
    return "right" if sides and sides[0] == "right" else "left"


def _number(thing: Entity, path: str) -> float | None:
    value: Any = thing
    for step in path.split("."):
        value = getattr(value, step, None)
    return value if isinstance(value, float) else None


def _refer_to_side(document: Document, thing_id: str, side: Side) -> Document:
    old, new = Ref(thing_id), Ref(thing_id, side)
    for thing in list(entities(document)):
        if any(found.ref == old for found in _all_references(thing)):
            document = replace_thing(document, _with_ref(thing, old, new))
    return document


def _with_ref(thing: E, old: Ref, new: Ref) -> E:
    plain = msgspec.to_builtins(thing)
    old_plain, new_plain = [old.id, old.side], [new.id, new.side]

    def swap(value: Any) -> Any:  # noqa: ANN401 - walks plain data
        if value == old_plain:
            return new_plain
        if isinstance(value, list):
            return [swap(item) for item in value]
        if isinstance(value, dict):
            return {key: swap(item) for key, item in value.items()}
        return value

    return msgspec.convert(swap(plain), type(thing))


def replace_reference(document: Document, old: Ref, new: Ref) -> Document:
    """The document with every reference to `old` turned to `new`.

    Raises:
        EditRefusedError: a thing would then refer to one place twice, or to the wrong kind.
    """
    after = document
    for thing in list(entities(document)):
        if any(found.ref == old for found in _all_references(thing)):
            try:
                after = replace_thing(after, _with_ref(thing, old, new))
            except ValueError as error:
                raise EditRefusedError(str(error)) from error
    return kept_to_rules(document, after)
