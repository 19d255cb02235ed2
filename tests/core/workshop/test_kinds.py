"""Every field of every kind has words and a unit, and nothing is said of what is not there."""

from collections.abc import Iterator
from typing import Any, get_args

import pytest
from msgspec import Struct

from core.document.base import IDENTITY_FIELDS, Entity, Ref, Vec3, kind_name
from core.document.hints import hints_of, typed_path, without_none
from core.document.lookup import KIND_WORDS
from core.document.project import KINDS
from core.document.records import Limit, Note
from core.study.figures import is_direction, unit_of
from core.workshop.kinds import (
    WORDS,
    choice_words,
    field_words,
    fields_of,
    kind_words,
    kinds_in_order,
    path_words,
    unit_at,
)

UNITS = {
    "mm", "in", "deg", "kg", "N", "N m", "N m/deg", "N/mm", "MPa", "kg/m3", "kg m2", "kW", "rpm",
    "%", "days", "l", "g",
}  # fmt: skip

FIGURES_OF_RULES = ("value", "measured")
"""Numbers of a limit and an acceptance: in the unit of their rule, whichever it is."""


def _parts(hint: Any) -> Iterator[type[Struct]]:  # noqa: ANN401 - walks type hints
    bare = without_none(hint)
    if isinstance(bare, type) and issubclass(bare, Struct) and bare is not Ref:
        yield bare
    for part in get_args(bare):
        yield from _parts(part)


def _all_structs() -> list[type[Struct]]:
    found: list[type[Struct]] = list(KINDS.values())
    for kind in found:
        for name in own_fields(kind):
            found += [part for part in _parts(hints_of(kind)[name]) if part not in found]
    return found


def own_fields(kind: type[Struct]) -> list[str]:
    skipped = IDENTITY_FIELDS if issubclass(kind, Entity) else ()
    return [name for name in kind.__struct_fields__ if name not in skipped]


ALL = _all_structs()


def _number_paths(kind: type[Struct], before: str = "") -> Iterator[str]:
    for name in own_fields(kind):
        yield from _inside(hints_of(kind)[name], f"{before}{name}")


def _inside(hint: Any, path: str) -> Iterator[str]:  # noqa: ANN401 - walks type hints
    bare = without_none(hint)
    if bare in (float, int):
        yield path
    elif bare is Vec3:
        yield from (f"{path}.{axis}" for axis in Vec3._fields)
    elif isinstance(bare, type) and issubclass(bare, Struct) and bare is not Ref:
        yield from _number_paths(bare, f"{path}.")
    elif getattr(bare, "__origin__", None) is tuple:
        yield from _inside(get_args(bare)[0], f"{path}.0")


@pytest.mark.parametrize("kind", ALL, ids=lambda kind: kind.__name__)
def test_every_field_has_words_and_no_word_is_about_a_field_that_is_not_there(
    kind: type[Struct],
) -> None:
    said = WORDS[kind].fields

    assert sorted(said) == sorted(own_fields(kind))
    assert all(words.words.strip() for words in said.values())


def test_nothing_is_said_of_what_no_kind_has() -> None:
    assert set(WORDS) == set(ALL)


@pytest.mark.parametrize("kind", KINDS.values(), ids=kind_name)
def test_kinds_are_called_as_everywhere_else_and_their_columns_exist(kind: type[Entity]) -> None:
    words = kind_words(kind)

    assert words.words == KIND_WORDS.get(kind_name(kind), kind_name(kind).replace("_", " "))
    assert words.help.endswith(".")
    assert words.many
    assert all(typed_path(kind, path) is not None for path in words.columns)
    assert set(words.asks) <= set(fields_of(kind))


@pytest.mark.parametrize("kind", KINDS.values(), ids=kind_name)
def test_units_are_those_by_which_figures_are_told(kind: type[Entity]) -> None:
    paths = [path for path in _number_paths(kind) if path not in FIGURES_OF_RULES]
    thing = Note(id="note1", name="any", text="any")  # `unit_of` looks at the path alone

    told = {path: field_words(kind, path).unit for path in paths}

    assert set(told.values()) <= UNITS | {""}
    assert told == {path: unit_of(thing, path) for path in paths}


@pytest.mark.parametrize("kind", KINDS.values(), ids=kind_name)
def test_a_number_without_a_unit_is_a_count_a_ratio_a_share_or_a_direction(
    kind: type[Entity],
) -> None:
    plain = [path for path in _number_paths(kind) if not field_words(kind, path).unit]

    known: tuple[str, ...] = (
        "count",
        "ratio",
        "friction",
        "share",
        "factor",
        "efficiency",
        "final_drive",
        "pieces",
    )
    known += ("pistons", "price", "value", "measured")

    assert [p for p in plain if not is_direction(p) and not any(k in p for k in known)] == []


def test_a_limit_is_in_its_own_unit() -> None:
    limit = Limit(id="limit1", name="tilt", rule="tilt", value=3.0, unit="deg")

    assert unit_at(limit, "value") == "deg"


def test_paths_and_choices_are_said_in_words() -> None:
    assert path_words(KINDS["corners"], "upright.hub_face.y") == "upright, hub face, y left"
    assert path_words(KINDS["corners"], "damper.spring_rate") == "damper and spring, spring rate"
    assert path_words(KINDS["corners"], "links.toe.outside") == "links, toe, outside diameter"
    assert choice_words("rod_end") == "rod end"
    assert choice_words(value=True) == "yes"
    assert choice_words(None) == "don't know"


def test_words_are_those_of_the_trade() -> None:
    said = " ".join(
        [words.words + " " + kind.__doc__.__str__() for kind, words in WORDS.items()]
        + [f"{f.words} {f.help}" for w in WORDS.values() for f in w.fields.values()]
        + [kind_words(kind).help for kind in KINDS.values()]
    ).lower()

    for word in ("optimum", "safe", "approved", "driveshaft", "near side", "off side"):
        assert word not in said
    assert list(kinds_in_order()) == sorted(KINDS, key=lambda field: kind_words(KINDS[field]).words)
