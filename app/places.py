"""Going round the parts of the window by key."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget


def go_round(places: Sequence[QWidget], focus: QWidget | None, by: int) -> QWidget | None:
    """Take the keyboard from the place that has it to the next one; the widget that got it."""
    holding = [n for n, place in enumerate(places) if _holds(place, focus)]
    at = holding[-1] if holding else (-1 if by > 0 else 0)  # the last: it may lie in another
    for step in range(1, len(places) + 1):
        target = first_in(places[(at + by * step) % len(places)])
        if target is not None:
            target.setFocus(Qt.FocusReason.TabFocusReason)
            return target
    return None


def _holds(place: QWidget, focus: QWidget | None) -> bool:
    return focus is not None and (place is focus or place.isAncestorOf(focus))


def first_in(place: QWidget) -> QWidget | None:
    """The first widget of a part that can take the keyboard; nothing if none can."""
    candidates = [place, *place.findChildren(QWidget)]
    usable = [w for w in candidates if w.isVisible() and w.isEnabled()]
    by_tab = [w for w in usable if w.focusPolicy() & Qt.FocusPolicy.TabFocus]
    return by_tab[0] if by_tab else None
