"""Words, units and choices of every kind and every field, looked up by path."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, get_args, get_origin

from msgspec import Struct

from core.assess.limits import DEFAULTS
from core.document.base import Entity, Vec3
from core.document.hints import hints_of, typed_path, without_none
from core.document.paths import Path
from core.document.project import KINDS
from core.document.records import Limit, Reading
from core.workshop.kind_words import (
    boards,
    donors,
    links,
    power,
    records,
    running_gear,
    steel,
    surroundings,
)
from core.workshop.kind_words.record import FieldWords, KindWords, StructWords

_MODULES = (steel, power, running_gear, links, donors, boards, surroundings, records)

WORDS: Mapping[type[Struct], StructWords] = MappingProxyType(
    {kind: words for m in _MODULES for kind, words in (*m.KINDS.items(), *m.STRUCTS.items())}
)
"""What is said of each kind, and of each part of one."""

PLACE_AXES: Mapping[str, str] = MappingProxyType({"x": "ahead", "y": "left", "z": "up"})
"""What the coordinates of a place count, in the frame of its carrier."""

_CHOICES: Mapping[str, str] = MappingProxyType(
    {
        "in_hand": "in hand",
        "unit": "the engine and gearbox",
        "chassis": "the chassis",
        "shell": "the shell",
        "upright": "the upright",
        "arm": "an arm",
        "rack": "the rack",
        "table": "the table",
        "frame": "the frame",
        "node": "tube joint",
    }
)
"""Choices whose word in the file is not the word on screen."""

_READING_UNITS = {"weight": "kg", "angle": "deg"}


def kind_words(kind: type[Entity]) -> KindWords:
    """What is said of a kind.

    Raises:
        KeyError: nothing is said of it.
    """
    words = WORDS[kind]
    assert isinstance(words, KindWords)
    return words


def kinds_in_order() -> tuple[str, ...]:
    """The lists of a document, in the order of their words."""
    return tuple(sorted(KINDS, key=lambda field: kind_words(KINDS[field]).words))


def fields_of(kind: type[Struct]) -> tuple[str, ...]:
    """The fields of a kind, or of a part of one, in the order of the screen."""
    return tuple(WORDS[kind].fields)


def field_words(kind: type[Struct], path: Path) -> FieldWords:
    """What is said of the field at a path; of a coordinate or an item, what is said of its field.

    Raises:
        ValueError: there is no such path.
    """
    typed_path(kind, path)
    found = FieldWords("")
    hint: Any = kind
    for step in path.split("."):
        hint = without_none(hint)
        if hint is Vec3:
            axis = f"{step} {PLACE_AXES[step]}" if found.unit else step
            return FieldWords(axis, found.unit, found.help)
        if get_origin(hint) is tuple:
            hint = get_args(hint)[0]
        else:
            found = WORDS[hint].fields[step]
            hint = hints_of(hint)[step]
    return found


def unit_at(thing: Entity, path: Path) -> str:
    """The unit of a number in a thing; empty where it has none."""
    if isinstance(thing, Limit) and path == "value":
        return thing.unit
    if isinstance(thing, Reading) and path in ("value", "uncertainty"):
        return _READING_UNITS.get(thing.what, "mm")
    return field_words(type(thing), path).unit


def path_words(kind: type[Struct], path: Path) -> str:
    """A whole path in words, the outermost first, as in «upright, hub face, y left»."""
    steps = path.split(".")
    said: list[str] = []
    for count in range(1, len(steps) + 1):
        words = field_words(kind, ".".join(steps[:count])).words
        is_item = said[-1:] == [words]
        said.append(steps[count - 1] if is_item and not steps[count - 1].isdigit() else words)
    return ", ".join(dict.fromkeys(said))


def choice_words(value: object) -> str:
    """One of a fixed set of values, as it is said on screen."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if str(value) in DEFAULTS:
        return DEFAULTS[str(value)].words
    return "don't know" if value is None else _CHOICES.get(str(value), str(value).replace("_", " "))
