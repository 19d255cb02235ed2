"""Actions as data: each complete, each found by its own words and by those of the trade."""

import re
from collections import Counter

import pytest
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu

from app.action import MENUS, Action
from app.actions import ACTIONS
from app.command_box import MOST_FOUND
from app.menus import keys_of
from app.search import Entry, ranked
from app.trade_words import also
from app.window import MainWindow

AVOIDED = re.compile(
    r"\b(safe|approved|optimum|perfect|error|node|unit|finding)s?\b", re.IGNORECASE
)


def test_every_action_is_complete_and_has_its_own_id() -> None:
    assert {action.menu for action in ACTIONS} == set(MENUS)
    assert max(Counter(action.id for action in ACTIONS).values()) == 1
    for action in ACTIONS:
        assert action.name.strip()
        assert action.tip.endswith(".")


def test_no_shortcut_is_given_twice() -> None:
    keys = Counter(QKeySequence(key).toString() for action in ACTIONS for key in keys_of(action))

    assert "" not in keys
    assert max(keys.values()) == 1


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.id)
def test_no_word_is_shown_that_a_builder_would_not_say(action: Action) -> None:
    assert not AVOIDED.search(f"{action.name} {action.tip}")


@pytest.mark.parametrize("action", ACTIONS, ids=lambda action: action.id)
def test_an_action_is_found_by_its_name_and_by_every_other_word_for_it(action: Action) -> None:
    entries = [Entry(one.name, one.menu, (*one.also, *also(one.name)), one.id) for one in ACTIONS]

    for typed in (action.name.rstrip("…"), *action.also):
        assert action.id in [found.target for found in ranked(entries, typed, MOST_FOUND)], typed


def inside(menu: QMenu) -> list[QAction]:
    """The actions of a menu and of the menus in it."""
    found: list[QAction] = []
    for action in menu.actions():
        inner = action.menu()
        found += inside(inner) if isinstance(inner, QMenu) else [action]
    return found


def test_every_action_stands_in_its_menu_with_its_tip(window: MainWindow) -> None:
    menus = {menu.title(): menu for menu in window.top.findChildren(QMenu) if menu.title() in MENUS}

    for record in ACTIONS:
        made = window.bound[record.id]
        assert made in inside(menus[record.menu])
        assert made.toolTip() == record.tip


def test_no_menu_is_longer_than_a_small_window(window: MainWindow) -> None:
    for menu in window.top.findChildren(QMenu):
        assert menu.sizeHint().height() <= 760, menu.title()


def test_what_cannot_be_done_is_not_offered(window: MainWindow) -> None:
    assert not window.bound["undo"].isEnabled()
    assert not window.bound["delete"].isEnabled()
    assert not window.bound["make_tube"].isEnabled()
    assert window.bound["save"].isEnabled()
