"""Doing what a finding offers as its remedy."""

from collections.abc import Callable, Mapping
from typing import Any, Final, TypeVar

from core.assess.places import place
from core.document.base import Because, Ref, Vec3
from core.document.lookup import Lookup, sides
from core.document.project import Document
from core.document.sides import on_side
from core.document.steel import Panel, Point
from core.edits.finding_things import piece_of
from core.edits.names import free_name
from core.edits.points import merge_points, tie_to_tube
from core.edits.refusals import EditRefusedError
from core.edits.things import make
from core.edits.tube_places import place_on_tube
from core.edits.unit import move_unit, settle_width
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.engine.finding import Remedy

T = TypeVar("T")
Arguments = Mapping[str, object]


def apply_remedy(document: Document, remedy: Remedy) -> Document:
    """The document with a remedy done.

    Raises:
        HeldError: something it would change is held.
        EditRefusedError: it cannot be done, or is not known; the text says why.
    """
    edit = EDITS.get(remedy.edit)
    if edit is None:
        msg = f"«{remedy.words}» must be done by hand"
        raise EditRefusedError(msg)
    return edit(document, dict(remedy.arguments))


def _argument(arguments: Arguments, name: str, kind: type[T]) -> T:
    value = arguments.get(name)
    if not isinstance(value, kind):
        msg = f"the remedy does not say `{name}` as it should; do it by hand"
        raise EditRefusedError(msg)
    return value


def _move_unit(document: Document, arguments: Arguments) -> Document:
    ref, by = _argument(arguments, "ref", Ref), _argument(arguments, "by", Vec3)
    shafts = (
        Because(ref=side, of="length" if piece.length is not None else "bench")
        for shaft in document.drive_shafts
        for side in sides(shaft)
        if (piece := on_side(shaft, side.side)).unit == ref
    )
    return move_unit(document, ref, by, tuple(shafts))


def _settle_width(document: Document, arguments: Arguments) -> Document:
    corner = _argument(arguments, "corner", Ref)
    return settle_width(document, corner, _argument(arguments, "outward", float))


def _tie_to_tube(document: Document, arguments: Arguments) -> Document:
    ref, tube = _argument(arguments, "ref", Ref), _argument(arguments, "tube", Ref)
    piece_of(document, Point, ref)
    try:
        there = compute(document, {}, place, ref)
    except NotComputedError as error:
        raise EditRefusedError(str(error)) from error
    return tie_to_tube(document, ref, place_on_tube(document, tube, there))


def _merge_points(document: Document, arguments: Arguments) -> Document:
    keep, drop = _argument(arguments, "keep", Ref), _argument(arguments, "drop", Ref)
    return merge_points(document, keep, drop)


def _make_panel(document: Document, arguments: Arguments) -> Document:
    """A sheet like the last one of this car: nothing else says of what, or how thick."""
    _argument(arguments, "outline", tuple)
    outline: Any = arguments["outline"]
    if not document.panels:
        msg = "this car has no sheet yet to take metal and thickness from; make the first by hand"
        raise EditRefusedError(msg)
    like = document.panels[-1]
    lookup = Lookup(document)
    name = "sheet " + " ".join(lookup.label(ref) for ref in outline)
    called = free_name((panel.name for panel in document.panels), name)
    fields = {"thickness": like.thickness, "material": like.material, "fixing": like.fixing}
    return make(document, Panel, called, outline=outline, **fields)[0]


EDITS: Final[Mapping[str, Callable[[Document, Arguments], Document]]] = {
    "move_unit": _move_unit,
    "settle_width": _settle_width,
    "tie_to_tube": _tie_to_tube,
    "merge_points": _merge_points,
    "make_panel": _make_panel,
}
"""Every edit that a remedy can name."""
