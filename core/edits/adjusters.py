"""Fitting adjusters to a corner, changing them, and taking them off."""

from typing import Any

import msgspec

from core.document.base import Ref
from core.document.links import Adjuster
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.running_gear import Corner
from core.document.sides import on_side
from core.edits.branches import add_item, put, remove_item
from core.edits.finding_things import thing_of
from core.edits.refusals import EditRefusedError
from core.engine.address import Address


def add_adjuster(
    document: Document, corner: Ref, adjuster: Adjuster, *, free: bool = False
) -> Document:
    """The document with one more adjuster on a corner, and its mirror image on the other side.

    Args:
        document: where it is.
        corner: one side of a pair, or a single corner.
        adjuster: as on that side.
        free: whether to set free first what is held there.

    Raises:
        HeldError: the adjusters are held, and `free` was not asked for.
        EditRefusedError: its point is no end of anything that holds this corner's upright.
    """
    _refuse_elsewhere(document, corner, adjuster)
    return add_item(document, Address(corner, "adjusters"), adjuster, free=free)


def change_adjuster(
    document: Document, corner: Ref, number: int, *, free: bool = False, **fields: object
) -> Document:
    """The document with fields of an adjuster changed together, as a range at both its ends.

    Raises:
        HeldError: it is held, and `free` was not asked for.
        EditRefusedError: there is no such adjuster, a value does not fit, or its point is no end
            of anything that holds this corner's upright.
    """
    values: dict[str, Any] = dict(fields)
    old = _adjuster(document, corner, number)
    try:
        changed = msgspec.structs.replace(old, **values)
    except (TypeError, ValueError) as error:
        raise EditRefusedError(str(error)) from error
    if changed.point != old.point:
        _refuse_elsewhere(document, corner, changed)
    return put(document, Address(corner, f"adjusters.{number}"), changed, free=free)


def remove_adjuster(
    document: Document, corner: Ref, number: int, *, free: bool = False
) -> Document:
    """The document without an adjuster, on both sides of a pair.

    Raises:
        HeldError: it is held, and `free` was not asked for.
        EditRefusedError: there is no such adjuster.
    """
    _adjuster(document, corner, number)
    return remove_item(document, Address(corner, "adjusters"), number, free=free)


def can_be_adjusted(document: Document, corner: Ref) -> tuple[Ref, ...]:
    """Places of a corner at which something could be set: all that what holds its upright ends in.

    Chassis ends come first, each place once.
    """
    thing = _corner(document, corner)
    inner = (link.inner for link in thing.links)
    outer = (link.outer for link in thing.links)
    roles = (role.point for role in thing.points)
    held = (ref for each in thing.holders for ref in each.points)
    return tuple(dict.fromkeys((*inner, *outer, *held, *roles)))


def _refuse_elsewhere(document: Document, corner: Ref, adjuster: Adjuster) -> None:
    if adjuster.point not in can_be_adjusted(document, corner):
        lookup = Lookup(document)
        msg = (
            f"{lookup.label(adjuster.point)} is no end of anything that holds the upright of "
            f"{lookup.label(corner)}; choose an end of one of its links"
        )
        raise EditRefusedError(msg)


def _adjuster(document: Document, corner: Ref, number: int) -> Adjuster:
    thing = _corner(document, corner)
    if not 0 <= number < len(thing.adjusters):
        msg = f"{thing.name} has {len(thing.adjusters)} adjusters, and no number {number + 1}"
        raise EditRefusedError(msg)
    return thing.adjusters[number]


def _corner(document: Document, corner: Ref) -> Corner:
    thing = on_side(thing_of(document, corner.id), corner.side)
    if not isinstance(thing, Corner):
        msg = f"{thing.name} is no corner, so nothing there is set"
        raise EditRefusedError(msg)
    return thing
