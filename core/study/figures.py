"""Values of a document in words: the figure, its unit, and where it comes from."""

from collections.abc import Iterable
from typing import cast

from msgspec import Struct

from core.document.base import Entity, Fact, Ref, Source, Vec3
from core.document.facts import fact_at, source_of
from core.document.lookup import Lookup
from core.document.paths import Path, covers, number_paths
from core.document.records import Limit
from core.document.running_gear import BenchReadings
from core.engine.address import Address, piece, value_of
from core.quantities import number

SOURCES: tuple[Source, ...] = ("guessed", "measured", "chosen", "in_hand")
"""Guessed ones first: they are what must not be cut by."""

SOURCE_WORDS: dict[Source, str] = {
    "guessed": "guessed",
    "measured": "measured",
    "chosen": "chosen",
    "in_hand": "in hand",
}

_UNITS_BY_END = {
    "_nm_per_deg": "N m/deg",
    "_kg_m3": "kg/m3",
    "_deg": "deg",
    "_deg_per_90": "deg",
    "_kg": "kg",
    "_nm": "N m",
    "_mpa": "MPa",
    "_kw": "kW",
    "_rpm": "rpm",
    "_percent": "%",
    "_days": "days",
}
_UNITS_BY_NAME = {
    "rate": "N/mm",
    "spring_rate": "N/mm",
    "vertical_stiffness": "N/mm",
    "stiffness": "N/mm",
    "inertia": "kg m2",
    "hand_force": "N",
    "litres": "l",
    "rim_in": "in",
    "rim_width_in": "in",
    "acceleration_g": "g",
}
_DIRECTIONS = ("axes", "direction", "cup_direction", "spin_axis", "tool_from")
_DIRECTION_ENDS = ("_axis",)
_PLAIN = (
    "gear_ratios",
    "final_drive",
    "clutch_factor",
    "pistons_one_side",
    "cable_efficiency",
    "pieces_in_hand",
    "price",
)
_PLAIN_ENDS = ("_count", "_ratio", "_factor")
_PLAIN_STARTS = ("pad_friction", "front_share")


def unit_of(thing: Entity, path: Path) -> str:
    """The unit of a number in a thing; empty where it has none."""
    if isinstance(thing, Limit):
        return thing.unit
    for step in reversed(path.split(".")):
        unit = _unit_of_field(step)
        if unit is not None:
            return unit
    return "mm"


def _unit_of_field(name: str) -> str | None:
    if is_direction(name) or name in _PLAIN:
        return ""
    if name.endswith(_PLAIN_ENDS) or name.startswith(_PLAIN_STARTS):
        return ""
    by_end = next((unit for end, unit in _UNITS_BY_END.items() if name.endswith(end)), None)
    return _UNITS_BY_NAME.get(name, by_end)


def is_direction(path: Path) -> bool:
    """Whether a path leads into a direction or a set of axes, whose parts are no lengths."""
    steps = path.split(".")
    return any(step in _DIRECTIONS or step.endswith(_DIRECTION_ENDS) for step in steps)


def figure(value: float) -> str:
    """A number with as many decimals as it has, three at most."""
    text = number(value, 3)
    return text.rstrip("0").rstrip(".")


def with_unit(value: float, unit: str) -> str:
    """A number and its unit."""
    return f"{figure(value)} {unit}".rstrip()


def numbers_at(thing: Entity, path: Path) -> list[Path]:
    """The paths of all numbers at a path and below it."""
    return [inner for inner in number_paths(thing) if covers(path, inner)]


def fact_of(lookup: Lookup, address: Address) -> Fact | None:
    """The fact that counts for a value."""
    thing = lookup.by_id[address.ref.id]
    return fact_at(thing, address.ref.side, address.path)


def source_at(lookup: Lookup, address: Address) -> Source:
    """Where a value comes from; without a fact it is guessed, but a limit is then chosen."""
    thing = lookup.by_id[address.ref.id]
    if isinstance(thing, Limit) and fact_of(lookup, address) is None:
        return "chosen"
    return source_of(thing, address.ref.side, address.path)


def stated_doubt(lookup: Lookup, address: Address) -> float | None:
    """The standard uncertainty that the document states for a number on one side, if it does.

    A fact about this very number counts first; then, for a reading off the bench, the field of the
    bench for that reading; then a fact about a branch that it is in, which is taken to state the ±
    of each number of it. A number of the bench that is no reading (the stroke to keep) has only
    what a fact about it alone says.
    """
    fact = fact_of(lookup, address)
    given = None if fact is None else fact.uncertainty
    if fact is not None and fact.of == address.path and given is not None:
        return given
    branch, _, field = address.path.rpartition(".")
    bench = value_of(lookup, Address(address.ref, branch)) if branch else None
    if not isinstance(bench, BenchReadings):
        return given
    if field not in BenchReadings.read_to:
        return None
    own: float | None = getattr(bench, BenchReadings.read_to[field])
    return given if own is None else own


def source_words(lookup: Lookup, address: Address) -> str:
    """Where a value comes from, how sure it is, how and when it was got."""
    fact = fact_of(lookup, address)
    if fact is None:
        thing = lookup.by_id[address.ref.id]
        own = thing.source if isinstance(thing, Limit) else "no source given"
        return ", ".join(part for part in (SOURCE_WORDS[source_at(lookup, address)], own) if part)
    stated = stated_doubt(lookup, address)
    doubt = "" if stated is None else f" ± {figure(stated)}"
    readings = f"by {', '.join(ref.id for ref in fact.readings)}" if fact.readings else ""
    rest = [part for part in (fact.how, fact.when, readings) if part]
    return ", ".join([SOURCE_WORDS[fact.source] + doubt, *rest])


def counted(lookup: Lookup, address: Address) -> str:
    """How many numbers a thing or a branch has from each source."""
    paths = numbers_at(piece(lookup, address.ref), address.path)
    sources = [source_at(lookup, Address(address.ref, path)) for path in paths]
    parts = [f"{sources.count(s)} {SOURCE_WORDS[s]}" for s in SOURCES if s in sources]
    return f"{plural(len(paths), 'number')}: {', '.join(parts)}" if parts else "no numbers"


def plural(count: int, what: str) -> str:
    """A count and what is counted."""
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def valued(lookup: Lookup, address: Address) -> str:
    """The value at an address in words: a number with its unit, a place, a name, or a count."""
    thing, value = piece(lookup, address.ref), value_of(lookup, address)
    unit = unit_of(thing, address.path)
    if isinstance(value, Vec3):
        return f"({', '.join(figure(v) for v in value)}) {unit}".rstrip()
    if value is None:
        return "not known"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return with_unit(value, unit)
    if isinstance(value, Ref):
        return lookup.label(value)
    return f"«{value}»" if isinstance(value, str) else _many(lookup, address)


def _many(lookup: Lookup, address: Address) -> str:
    """A list of names by name; anything else by its numbers."""
    value = value_of(lookup, address)
    if isinstance(value, tuple):
        items = cast("tuple[object, ...]", value)
        names = [lookup.label(item) for item in items if isinstance(item, Ref)]
        if len(names) == len(items):
            return ", ".join(names) or "none"
    return counted(lookup, address)


def one_source(lookup: Lookup, address: Address) -> bool:
    """Whether all numbers at an address and below it have the same fact and ± behind them."""
    paths = numbers_at(piece(lookup, address.ref), address.path)
    inner = [Address(address.ref, path) for path in paths]
    facts = {id(fact_of(lookup, each)) for each in inner}
    return len(facts) <= 1 and len({stated_doubt(lookup, each) for each in inner}) <= 1


def stored(lookup: Lookup, address: Address) -> Address:
    """The address under which a value is kept: the left one, unless the right has its own.

    Two addresses of one stored value are one value: they move together.
    """
    thing, (ref, path) = lookup.by_id[address.ref.id], address
    if ref.side != "right" or not thing.pair or owned(thing, path):
        return address
    return Address(ref.mirrored(), path)


def owned(thing: Entity, path: Path) -> bool:
    """Whether the right side of a pair has its own value at a path, above it or below it."""
    return any(covers(own.of, path) or covers(path, own.of) for own in thing.right)


def sides_moving(lookup: Lookup, address: Address) -> tuple[Ref, ...]:
    """The pieces that a change of a value moves: both of a pair unless the right has its own."""
    thing, ref = lookup.by_id[address.ref.id], address.ref
    if thing.pair and ref.side != "one" and not owned(thing, address.path):
        return ref, ref.mirrored()
    return (ref,)


def refs_in(value: object) -> Iterable[Ref]:
    """Every reference inside a value."""
    if isinstance(value, Ref):
        yield value
    elif isinstance(value, tuple):
        items = cast("tuple[object, ...]", value)
        for item in items:
            yield from refs_in(item)
    elif isinstance(value, Struct):
        for field in value.__struct_fields__:
            yield from refs_in(getattr(value, field))
