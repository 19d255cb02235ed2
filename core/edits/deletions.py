"""Removing things, and what depends on them."""

from typing import Final, NamedTuple

import msgspec

from core.document.base import Entity, Own, Ref
from core.document.layers import replace_thing, without_things
from core.document.lookup import entities
from core.document.project import Document
from core.document.records import Acceptance, Lift, Limit
from core.document.references import references
from core.document.sides import on_side
from core.document.steel import Bay, Panel
from core.edits.finding_things import thing_of
from core.edits.holds import kept
from core.edits.refusals import EditRefusedError
from core.edits.walks import (
    GONE,
    Gone,
    Rewrite,
    all_references,
    moved_path,
    own_rewritten,
    with_references,
)

_NAMED_IN_A_REFUSAL: Final = 8

_ALL_OR_NOTHING: Final[dict[type[Entity], str]] = {
    Acceptance: "subjects",
    Limit: "only_for",
    Panel: "outline",
    Bay: "outline",
    Lift: "stands",
}
"""Fields that mean something else with less in them, though they could be stored so: a limit for
one thing would be one for all, and a car would hang on one stand less."""


class Dependent(NamedTuple):
    """A thing that refers to another, where, and whether it cannot be without it."""

    ref: Ref
    name: str
    path: str
    needs_it: bool


def dependents(document: Document, thing_id: str) -> list[Dependent]:
    """Everything that refers to a thing."""
    return [
        Dependent(Ref(thing.id), thing.name, found.path, _needs(thing, found.path, found.required))
        for thing in entities(document)
        if thing.id != thing_id
        for found in all_references(thing)
        if found.ref.id == thing_id
    ]


def _needs(thing: Entity, path: str, required: bool) -> bool:  # noqa: FBT001 - passed on as found
    return required or path.split(".", maxsplit=1)[0] == _ALL_OR_NOTHING.get(type(thing))


def delete(document: Document, thing_id: str, *, with_dependents: bool = False) -> Document:
    """The document without a thing.

    Args:
        document: where it is.
        thing_id: what to remove.
        with_dependents: what cannot be without it goes as well; what merely names it lets go.

    Raises:
        EditRefusedError: others depend on it, by name, and `with_dependents` was not asked for.
        HeldError: what is left would change a value that is held, or move tacked or welded steel.
    """
    thing = thing_of(document, thing_id)
    names = sorted({dependent.name for dependent in dependents(document, thing_id)})
    if names and not with_dependents:
        more = " and others" if len(names) > _NAMED_IN_A_REFUSAL else ""
        words = f"{', '.join(names[:_NAMED_IN_A_REFUSAL])}{more}"
        msg = f"{thing.name} is used by {words}; remove it together with what depends on it"
        raise EditRefusedError(msg)
    return kept(document, without(document, thing_id))


def goes_with(document: Document, thing_id: str) -> set[str]:
    """Ids of everything that goes when a thing goes: itself and all that cannot be without it."""
    going = {thing_id}
    while True:
        left = without_things(document, frozenset(going))
        more = {thing.id for thing in entities(left) if let_go(thing, going) is GONE}
        if not more:
            return going
        going |= more


def without(document: Document, thing_id: str) -> Document:
    """The document without a thing and all that cannot be without it, whatever is held."""
    going = goes_with(document, thing_id)
    left = without_things(document, frozenset(going))
    for thing in list(entities(left)):
        freed = let_go(thing, going)
        if freed is not thing and not isinstance(freed, Gone):
            left = replace_thing(left, freed)
    return left


def let_go(thing: Entity, going: set[str]) -> Entity | Gone:
    """A thing without its references to what goes; gone if it cannot be without them."""
    field = _ALL_OR_NOTHING.get(type(thing))
    if not any(found.ref.id in going for found in all_references(thing)):
        return thing
    if any(f.ref.id in going and f.path.split(".")[0] == field for f in references(thing)):
        return GONE
    try:
        return _freed(thing, lambda ref: GONE if ref.id in going else ref)
    except ValueError:  # for instance a point that is left without a place
        return GONE


def _freed(thing: Entity, rewrite: Rewrite) -> Entity | Gone:
    """A thing without what is gone, the own values of its right side where their places are now.

    Raises:
        ValueError: it would not be sound.
    """
    bare = msgspec.structs.replace(thing, right=()) if thing.right else thing
    freed = with_references(bare, rewrite)
    right = [own_rewritten(own, rewrite) for own in thing.right]
    if isinstance(freed, Gone) or any(isinstance(own, Gone) for own in right):
        return GONE
    kept_own = [
        Own(of=path, value=own.value)
        for own in right
        if isinstance(own, Own) and (path := moved_path(thing, freed, own.of)) is not None
    ]
    freed = msgspec.structs.replace(freed, right=tuple(kept_own)) if kept_own else freed
    on_side(freed, "right")
    return freed
