"""Actions made of their records, and the menus of words that hold them."""

from collections.abc import Callable, Iterable, Mapping
from functools import partial

from PySide6.QtCore import QObject, Qt, Slot
from PySide6.QtGui import QAction, QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from app.action import MENUS, Action, Menu
from app.desk import Desk


class Bound(QObject):
    """The actions of one window, ready to be triggered, enabled or not as things change."""

    def __init__(
        self,
        actions: Iterable[Action],
        desk: Desk,
        window: QWidget,
        inner: Mapping[str, Callable[[QWidget], QMenu]] | None = None,
    ) -> None:
        """Make them for a window; their shortcuts work all over it.

        Args:
            actions: their records.
            desk: what they act on.
            window: where their shortcuts work.
            inner: makers of menus inside menus, by the action that each stands behind.
        """
        super().__init__(window)
        self._desk = desk
        self._inner = inner or {}
        self.records = tuple(actions)
        self.made: Mapping[str, QAction] = {
            action.id: _made(action, desk, window) for action in self.records
        }
        window.addActions(list(self.made.values()))
        desk.session.changed.connect(self.refresh)
        desk.selection.changed.connect(self.refresh)
        self.refresh()

    def __getitem__(self, name: str) -> QAction:
        """The action of an id."""
        return self.made[name]

    @Slot()
    def refresh(self) -> None:
        """Enable what can be done now, and say in undo and redo what would be done."""
        desk = self._desk
        for action in self.records:
            self.made[action.id].setEnabled(action.when(desk.session, desk.selection))
        done, undone = desk.session.history.done, desk.session.history.undone
        self.made["undo"].setText(f"Undo: {done[-1].words}" if len(done) > 1 else "Undo")
        self.made["redo"].setText(f"Redo: {undone[0].words}" if undone else "Redo")

    def menu(self, name: Menu, parent: QWidget) -> QMenu:
        """A menu with its actions in order; those of a group stand in a menu of their own."""
        made = _menu(name, parent)
        groups: dict[str, QMenu] = {}
        for action in self.records:
            if action.menu == name:
                if action.line_before or (action.group and not groups):
                    made.addSeparator()
                if action.group and action.group not in groups:
                    groups[action.group] = _menu(action.group, made)
                    made.addMenu(groups[action.group])
                groups.get(action.group, made).addAction(self.made[action.id])
                self._add_inner(action.id, made)
        return made

    def _add_inner(self, action: str, menu: QMenu) -> None:
        """Put a menu that is filled anew each time behind the action it belongs to."""
        if action in self._inner:
            menu.addMenu(self._inner[action](menu))

    def menus(self, parent: QWidget) -> list[QMenu]:
        """Every menu, in order."""
        return [self.menu(name, parent) for name in MENUS]


def _menu(name: str, parent: QWidget) -> QMenu:
    made = QMenu(name, parent)
    made.setProperty("role", "body")
    made.setToolTipsVisible(True)
    return made


def _made(action: Action, desk: Desk, window: QWidget) -> QAction:
    made = QAction(action.name, window)
    made.setObjectName(action.id)
    made.setToolTip(action.tip)
    made.setStatusTip(action.tip)
    made.setShortcuts([QKeySequence(key) for key in keys_of(action)])
    made.setShortcutContext(Qt.ShortcutContext.WindowShortcut)
    made.setMenuRole(QAction.MenuRole.NoRole)
    made.triggered.connect(partial(_run, action, desk))
    return made


def _run(action: Action, desk: Desk, _checked: bool = False) -> None:  # noqa: FBT001, FBT002 - Qt's
    if action.when(desk.session, desk.selection):
        action.run(desk)


def keys_of(action: Action) -> list[str]:
    """The shortcuts of an action, one by one."""
    return [key for key in action.keys.split(" or ") if key]
