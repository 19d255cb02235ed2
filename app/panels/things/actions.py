"""What the menus and the command box can ask of the tables and forms, as plain data."""

from typing import Literal, NamedTuple

from core.document.project import KINDS
from core.document.records import Acceptance, Car
from core.workshop.kinds import kind_words, kinds_in_order

NOT_MADE_BY_HAND = (Car, Acceptance)
"""There is one car, and an acceptance is made where its finding is shown."""


class ActionSpec(NamedTuple):
    """Something to be done with a kind of thing.

    Attributes:
        id: its own short name; never shown.
        words: what it is called.
        tooltip: what it does.
        synonyms: other words that find it.
        menu: where it stands.
        field: the kind, by its list in the document.
        does: `make` opens its form (`Things.begin`), `list` shows its table (`Things.show_kind`).
    """

    id: str
    words: str
    tooltip: str
    synonyms: tuple[str, ...]
    menu: Literal["Make", "Find"]
    field: str
    does: Literal["make", "list"]


def make_action_specs() -> tuple[ActionSpec, ...]:
    """One action to make each kind, and one to list it."""
    made = (_make(field) for field in kinds_in_order() if KINDS[field] not in NOT_MADE_BY_HAND)
    return (*made, *(_list(field) for field in kinds_in_order()))


def _make(field: str) -> ActionSpec:
    words = kind_words(KINDS[field])
    also = ("add", "new", "insert", *words.also)
    return ActionSpec(
        f"make_{field}", f"New {words.words}…", words.help, also, "Make", field, "make"
    )


def _list(field: str) -> ActionSpec:
    words = kind_words(KINDS[field])
    name = f"All {words.many}"
    tip = f"Show {words.many} in a table. {words.help}"
    return ActionSpec(f"list_{field}", name, tip, ("table", *words.also), "Find", field, "list")
