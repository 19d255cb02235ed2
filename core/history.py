"""Undo and redo: older projects, sharing all that did not change."""

from typing import NamedTuple

from core.document.project import Project


class Step(NamedTuple):
    """A project as it was after an edit, and what the edit is called."""

    project: Project
    words: str


class History(NamedTuple):
    """The steps behind and ahead of now; a value, changed by making another.

    Attributes:
        done: from the first project to the present one, which is last.
        undone: what a redo would bring back, nearest first.
        group: what the last edit belongs to, such as one drag; edits of one group are one step.
    """

    done: tuple[Step, ...]
    undone: tuple[Step, ...] = ()
    group: object = None

    @property
    def present(self) -> Project:
        """The project as it is now."""
        return self.done[-1].project

    @property
    def can_undo(self) -> bool:
        """Whether there is a step to take back."""
        return len(self.done) > 1

    @property
    def can_redo(self) -> bool:
        """Whether there is a step to bring back."""
        return bool(self.undone)


LONGEST = 1000
"""Steps kept. At 3 kB or less an edit, that is 3 MB."""


def begin(project: Project) -> History:
    """A history with nothing to undo."""
    return History((Step(project, "open"),))


def record(history: History, project: Project, words: str, group: object = None) -> History:
    """The history with an edit done; within one group the last edit replaces the one before.

    An edit that changed nothing leaves the history as it is, redo included.
    """
    if project is history.present or project == history.present:
        return history
    step = Step(project, words)
    same_group = group is not None and group == history.group and history.can_undo
    done = history.done[:-1] if same_group else history.done
    return History((*done, step)[-LONGEST:], (), group)


def settled(history: History) -> History:
    """The history with its group ended, as when the hand lets go; a drag there and back is none."""
    ended = history._replace(group=None)
    if history.group is None or not history.can_undo:
        return ended
    if history.done[-2].project == history.present:
        return ended._replace(done=history.done[:-1])
    return ended


def undo(history: History) -> History:
    """The history one step back; the same where there is none."""
    if not history.can_undo:
        return history
    return History(history.done[:-1], (history.done[-1], *history.undone))


def redo(history: History) -> History:
    """The history one undone step forward again; the same where there is none."""
    if not history.can_redo:
        return history
    return History((*history.done, history.undone[0]), history.undone[1:])
