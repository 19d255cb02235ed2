"""A value in a few words: for a row of a table or of a list that is folded."""

from typing import cast

from msgspec import Struct

from app.widgets.figures import at_rest
from core.document.base import Entity, Ref, Vec3
from core.document.lookup import Lookup
from core.document.paths import NoSuchPathError, Path, item_name, value_at
from core.workshop.kinds import choice_words, fields_of, unit_at

MOST_NAMES = 3


def value_words(lookup: Lookup, thing: Entity, path: Path) -> str:
    """The value at a path of one piece in a few words; nothing where it is not known."""
    try:
        value = value_at(thing, path)
    except NoSuchPathError:
        return ""
    return words_of(lookup, value, unit_at(thing, path))


def words_of(lookup: Lookup, value: object, unit: str) -> str:
    """A value in a few words; nothing where it is not known."""
    if value is None:
        return ""
    if isinstance(value, Ref):
        return lookup.label(value)
    if isinstance(value, bool | str):
        return choice_words(value) if isinstance(value, bool) else value.replace("_", " ")
    if isinstance(value, int | float):
        return f"{at_rest(value, unit)} {unit}".strip()
    if isinstance(value, Vec3):
        return " · ".join(at_rest(number, unit) for number in value)
    return _many(lookup, value, unit)


def _many(lookup: Lookup, value: object, unit: str) -> str:
    if isinstance(value, Struct):
        return item_words(lookup, value)
    items = cast("tuple[object, ...]", value)
    names = [words_of(lookup, item, unit) for item in items[:MOST_NAMES]]
    more = f" and {len(items) - MOST_NAMES} more" if len(items) > MOST_NAMES else ""
    return ", ".join(name for name in names if name) + more


def item_words(lookup: Lookup, item: Struct) -> str:
    """A part in a few words: its name, or what it says first."""
    name = item_name(item)
    told = [_field_words(lookup, item, field) for field in fields_of(type(item))]
    first = [words for words in told if words][:MOST_NAMES]
    if name:
        others = [words for words in first if words != name.replace("_", " ")]
        return " · ".join([name.replace("_", " "), *others[:2]])
    return " · ".join(first)


def _field_words(lookup: Lookup, item: Struct, field: str) -> str:
    value = getattr(item, field)
    if isinstance(value, Struct) and not isinstance(value, Ref):
        return ""
    return words_of(lookup, value, "")
