"""What an action is: one thing that the window can be asked to do, as data."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from app.desk import Desk
from app.selection import Selection
from app.session import Session
from core.document.base import word_of

Menu = Literal["File", "Edit", "View", "Make", "Find", "Help"]
MENUS: tuple[Menu, ...] = ("File", "Edit", "View", "Make", "Find", "Help")

When = Callable[[Session, Selection], bool]


def always(_session: Session, _selection: Selection) -> bool:
    """At any time."""
    return True


def something_chosen(_session: Session, selection: Selection) -> bool:
    """Something is chosen."""
    return bool(selection.refs)


def one_chosen(_session: Session, selection: Selection) -> bool:
    """Exactly one thing is chosen."""
    return len(selection.refs) == 1


def two_chosen(_session: Session, selection: Selection) -> bool:
    """Exactly two things are chosen."""
    return len(selection.refs) == 2


def side_chosen(_session: Session, selection: Selection) -> bool:
    """Something chosen is one side of a pair."""
    return any(ref.side != "one" for ref in selection.refs)


def tube_chosen(_session: Session, selection: Selection) -> bool:
    """A tube is among what is chosen."""
    return any(word_of(ref.id) == "tube" for ref in selection.refs)


def has_shafts(session: Session, _selection: Selection) -> bool:
    """There are drive shafts, which decide the width."""
    return bool(session.state.document.drive_shafts)


def can_undo(session: Session, _selection: Selection) -> bool:
    """There is a step to take back."""
    return session.history.can_undo


def can_redo(session: Session, _selection: Selection) -> bool:
    """There is a step to bring back."""
    return session.history.can_redo


def has_findings(session: Session, _selection: Selection) -> bool:
    """There is something to look at."""
    return bool(session.state.findings)


@dataclass(frozen=True)
class Action:
    """One thing the window can be asked to do.

    Attributes:
        id: its own short name; never shown.
        name: what it is called.
        tip: what it does, in plain words.
        run: does it.
        menu: where it stands.
        keys: its shortcuts, as Qt writes keys, with « or » between them; empty if it has none.
        when: whether it can be done now.
        also: other words that find it.
        line_before: whether a line parts it from the one above.
        group: the menu inside the menu that it stands in; empty for the menu itself.
    """

    id: str
    name: str
    tip: str
    run: Callable[[Desk], object]
    menu: Menu
    keys: str = ""
    when: When = always
    also: tuple[str, ...] = ()
    line_before: bool = False
    group: str = ""
