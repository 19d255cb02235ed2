"""Making, naming, copying and mirroring things of every kind."""

from collections.abc import Iterator
from typing import Any, Final, TypeVar

import msgspec

from core.document.base import Entity, Own, Ref, Side, kind_name
from core.document.layers import add_thing, replace_thing
from core.document.lookup import Lookup, entities, kind_of
from core.document.paths import NoSuchPathError, covers, value_at
from core.document.project import Document
from core.document.records import Car, CheckLength
from core.document.references import references
from core.document.sides import mirror_thing, on_side
from core.document.steel import Bay, Panel, Tube
from core.edits.deletions import Dependent, delete, dependents, goes_with
from core.edits.finding_things import thing_of
from core.edits.holds import kept, kept_to_rules
from core.edits.refusals import EditRefusedError
from core.edits.walks import all_references, with_references

__all__ = [
    "Dependent",
    "delete",
    "dependents",
    "duplicate",
    "goes_with",
    "kept_to_rules",
    "make",
    "mirror",
    "rename",
    "replace_reference",
    "side_of",
    "thing_of",
]

E = TypeVar("E", bound=Entity)


def make(document: Document, kind: type[E], name: str, **fields: object) -> tuple[Document, E]:
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
    values: dict[str, Any] = {**fields, "name": name}
    values["id"] = "car" if kind is Car else f"{kind_name(kind)}{number}"
    try:
        thing = msgspec.convert(msgspec.to_builtins(kind(**values)), kind)
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
    if thing.name == name:
        return document
    try:
        renamed = msgspec.structs.replace(thing, name=name)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return kept_to_rules(document, replace_thing(document, renamed))


def duplicate(document: Document, thing_id: str, name: str) -> tuple[Document, Entity]:
    """The document with a copy of a thing under another name, and the copy.

    Facts are not copied: what is measured on one piece is not on the other.

    Raises:
        EditRefusedError: the name is taken, or there can be no second one.
    """
    thing = thing_of(document, thing_id)
    own = ("id", "name", "facts")
    fields = {f: getattr(thing, f) for f in thing.__struct_fields__ if f not in own}
    return make(document, type(thing), name, **fields)


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
    if not thing.may_be_pair:
        msg = f"{thing.name} is a {kind_of(thing)}, of which there is no left and right one"
        raise EditRefusedError(msg)
    image = mirror_thing(thing)
    if _is_the_same(thing, image):
        msg = (
            f"{thing.name} lies on the centre plane or hangs on single things only, so its mirror "
            "image is itself; mirror what it refers to first"
        )
        raise EditRefusedError(msg)
    side = side_of(thing)
    try:
        pair = msgspec.structs.replace(thing if side == "left" else image, pair=True)
        after = _refer_to_side(replace_thing(document, pair), thing_id, side)
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    return kept_to_rules(document, after)


def _is_the_same(thing: Entity, image: Entity) -> bool:
    """Whether a piece and its mirror image are one piece, perhaps told from its other end."""
    if isinstance(thing, Tube) and isinstance(image, Tube):
        return _path(image) in (_path(thing), _path(thing)[::-1])
    if isinstance(thing, CheckLength) and isinstance(image, CheckLength):
        return {thing.start, thing.end} == {image.start, image.end}
    if isinstance(thing, Panel | Bay) and isinstance(image, Panel | Bay):
        return set(thing.outline) == set(image.outline)
    return thing == image


def _path(tube: Tube) -> list[Ref]:
    return [tube.start, *(bend.point for bend in tube.bends), tube.end]


def side_of(thing: Entity) -> Side:
    """The side a single thing stands on: by its first place off the centre plane, or reference."""
    for path in _PLACES:
        y = _number(thing, path)
        if y:
            return "left" if y > 0 else "right"
    sides = [found.ref.side for found in references(thing) if found.ref.side != "one"]
    return "right" if sides and sides[0] == "right" else "left"


_PLACES: Final = (
    "at.y",
    "place.y",
    "box.low.y",
    "head_place.y",
    "hip_point.y",
    "upright.hub_face.y",
    "centre.y",
    "outline.0.y",
    "points.0.y",
    "line.0.y",
)
"""Where things of different kinds say how far from the centre plane they stand."""


def _number(thing: Entity, path: str) -> float | None:
    try:
        value = value_at(thing, path)
    except NoSuchPathError:
        return None
    return value if isinstance(value, float) else None


def _refer_to_side(document: Document, thing_id: str, side: Side) -> Document:
    """The document with all that named a single thing naming that side of the pair it is now."""
    for thing in list(entities(document)):
        if thing.id != thing_id and any(r.ref.id == thing_id for r in all_references(thing)):
            document = replace_thing(document, _naming(thing, Ref(thing_id), Ref(thing_id, side)))
    return document


def _naming(thing: E, old: Ref, new: Ref) -> E:
    """A thing with a reference turned; the right piece of a pair keeps to the same piece too."""
    turned = _turned(thing, old, new)
    if not thing.pair:
        return turned
    own = [found.path for found in references(on_side(thing, "right")) if found.ref == old]
    kept_own = [path for path in own if not any(covers(o.of, path) for o in turned.right)]
    right = (*turned.right, *(Own(of=path, value=new) for path in kept_own))
    return msgspec.structs.replace(turned, right=right)


def _turned(thing: E, old: Ref, new: Ref) -> E:
    turned = with_references(thing, lambda ref: new if ref == old else ref)
    assert isinstance(turned, type(thing))  # no reference is gone
    return turned


def replace_reference(document: Document, old: Ref, new: Ref) -> Document:
    """The document with every reference to `old` turned to `new`.

    Raises:
        EditRefusedError: a thing would then refer to one place twice, or to the wrong kind.
        HeldError: a reference that is held would change, or tacked or welded steel would move.
    """
    return kept(document, turned_to(document, ((old, new),)))


def turned_to(document: Document, pairs: tuple[tuple[Ref, Ref], ...]) -> Document:
    """The document with every reference to the first of a pair turned to the second.

    Raises:
        EditRefusedError: a thing would then refer to one place twice.
    """
    for thing, old, new in _turns(document, pairs):
        try:
            document = replace_thing(document, _turned(thing_of(document, thing.id), old, new))
        except ValueError as error:
            raise EditRefusedError(str(error)) from error
    return document


def _turns(
    document: Document, pairs: tuple[tuple[Ref, Ref], ...]
) -> Iterator[tuple[Entity, Ref, Ref]]:
    lookup = Lookup(document)
    for thing in lookup.by_id.values():
        named = {found.ref for found in all_references(thing)}
        yield from ((thing, old, new) for old, new in pairs if old in named)
