"""What one thing says that the other things of the document must bear out."""

from collections.abc import Iterator
from typing import Final

import msgspec

from core.document.base import Carrier, Entity, Ref, kind_name
from core.document.errors import Fault
from core.document.lookup import Lookup
from core.document.paths import NoSuchPathError, canonical_path
from core.document.references import references
from core.document.running_gear import DriveShaft
from core.document.sides import on_side
from core.document.steel import Point, Tube

PLACE_KINDS: Final = ("point", "rack")
"""Kinds of a reference to a place: a point, or an end of the steering rack."""

CARRIED_BY: Final[dict[Carrier, str]] = {
    "unit": "power_unit",
    "upright": "corner",
    "arm": "corner",
    "rack": "rack",
    "shell": "shell",
    "table": "datum",
}
"""The kind of thing that a point moves with, by its carrier; the chassis is no thing."""

_encoder = msgspec.json.Encoder()


def entity_faults(entity: Entity, lookup: Lookup) -> list[Fault]:
    """What one thing says that the other things do not bear out."""
    faults = [*_text_faults(entity), *reference_faults(entity, lookup)]
    if entity.pair and entity.right and not faults:
        faults += _right_side_faults(entity, lookup)
    if not faults:
        faults += fact_faults(entity, lookup)
        faults += _kind_faults(entity, lookup)
    return faults


def _text_faults(entity: Entity) -> Iterator[Fault]:
    """Half of a surrogate pair, as a window may hand over: no file could hold it."""
    try:
        _encoder.encode(entity)
    except UnicodeEncodeError:
        words = f"{entity.name} has a text with half a character in it; type that text again"
        yield Fault(entity.id, "", words)


def reference_faults(entity: Entity, lookup: Lookup) -> Iterator[Fault]:
    """References of a thing, as it is stored, to what is not there or not of the right kind."""
    for path, ref, kinds, _ in references(entity):
        words = ref_fault(ref, kinds, lookup)
        if words is not None:
            yield Fault(entity.id, path, f"{entity.name}: `{path}` {words}")


def ref_fault(ref: Ref, kinds: tuple[str, ...], lookup: Lookup) -> str | None:
    """What is wrong with a reference, in words; nothing if it holds."""
    target = lookup.by_id.get(ref.id)
    if kinds == ("reading",):
        return None  # readings belong to the project; see `check_project`
    if target is None:
        return f"names {ref.id[:80]}, which is not there"
    kind = kind_name(type(target))
    if kinds and kind not in kinds:
        return f"names {target.name}, which is a {kind}, not a {' or '.join(kinds)}"
    return _side_fault(ref, target, kinds)


def _side_fault(ref: Ref, target: Entity, kinds: tuple[str, ...]) -> str | None:
    """A rack is a single thing with two ends; where a place is wanted, one of them is meant."""
    is_rack = kind_name(type(target)) == "rack"
    if ref.side == "one" and (target.pair or (is_rack and kinds == PLACE_KINDS)):
        return f"must say which side of {target.name} is meant, left or right"
    has_sides = target.pair or (is_rack and kinds in (PLACE_KINDS, ()))
    if ref.side != "one" and not has_sides:
        return f"names the {ref.side} side of {target.name}, which is a single thing"
    return None


def _right_side_faults(entity: Entity, lookup: Lookup) -> Iterator[Fault]:
    try:
        right = on_side(entity, "right")
    except ValueError as error:
        yield Fault(entity.id, "right", f"{entity.name}, right side: {error}")
        return
    for number, own in enumerate(entity.right):
        proper = canonical_path(right, own.of)
        if proper != own.of:
            words = f"{entity.name}, right side: say «{proper}» for «{own.of}»"
            yield Fault(entity.id, f"right.{number}", words)
    for path, ref, kinds, _ in references(right):
        words_or_none = ref_fault(ref, kinds, lookup)
        if words_or_none is not None:
            words = f"{entity.name}, right side: `{path}` {words_or_none}"
            yield Fault(entity.id, "right", words)


def fact_faults(entity: Entity, lookup: Lookup) -> Iterator[Fault]:
    """Facts of a thing about values it has not got, or for reasons that are not there."""
    for number, fact in enumerate(entity.facts):
        words = _path_fault(on_side(entity, fact.side), fact.of)
        for because in fact.because:
            words = words or ref_fault(because.ref, (), lookup)
        if words:
            words = f"{entity.name}: a fact about «{fact.of or 'all of it'}» {words}"
            yield Fault(entity.id, f"facts.{number}", words)


def _path_fault(piece: Entity, path: str) -> str | None:
    try:
        proper = canonical_path(piece, path)
    except NoSuchPathError as error:
        return f"is about nothing: {error}"
    return None if proper == path else f"must say «{proper}»"


def _kind_faults(entity: Entity, lookup: Lookup) -> Iterator[Fault]:
    if isinstance(entity, Point):
        yield from _along_faults(entity)
        yield from _carrier_faults(entity, lookup)
    elif isinstance(entity, Tube) and entity.pair:
        yield from _twin_faults(entity)
    elif isinstance(entity, DriveShaft) and entity.pair:
        yield from _shaft_side_faults(entity)


def _along_faults(point: Point) -> Iterator[Fault]:
    if not point.pair or point.along is None or point.along.tube.side != "one":
        return
    if not any(own.of.split(".")[0] in ("along", "at") for own in point.right):
        words = (
            f"{point.name} is a pair on one single tube, so its right side needs its own place "
            "along it; otherwise both would be in one spot"
        )
        yield Fault(point.id, "along", words)


def _carrier_faults(point: Point, lookup: Lookup) -> Iterator[Fault]:
    if point.carrier_of is None:
        return
    wanted = CARRIED_BY.get(point.carrier)
    found = kind_name(type(lookup.by_id[point.carrier_of.id]))
    if found != wanted:
        words = (
            f"{point.name} is carried by the {point.carrier}, so `carrier_of` must name "
            f"{'a ' + wanted if wanted else 'nothing'}, not a {found}"
        )
        yield Fault(point.id, "carrier_of", words)


def _twin_faults(tube: Tube) -> Iterator[Fault]:
    left, right = _visited(tube), _visited(on_side(tube, "right"))
    if right in (left, left[::-1]):
        words = f"{tube.name} is a pair, but both its sides join the same joints; make it single"
        yield Fault(tube.id, "pair", words)


def _visited(tube: Tube) -> list[Ref]:
    return [tube.start, *(bend.point for bend in tube.bends), tube.end]


def _shaft_side_faults(shaft: DriveShaft) -> Iterator[Fault]:
    left, right = shaft.corner, on_side(shaft, "right").corner
    if left.side == "right" or right.side == "left":
        words = f"{shaft.name} is a pair, so its left piece goes to the left corner of an axle"
        yield Fault(shaft.id, "corner", words)
    elif left == right:
        words = f"{shaft.name} is a pair, but both its sides go to one corner; make it single"
        yield Fault(shaft.id, "corner", words)
