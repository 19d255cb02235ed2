"""Longer words of the window: about the program, its keys, what it does not look at."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QFrame, QHBoxLayout, QScrollArea, QVBoxLayout, QWidget

from app import __version__
from app.actions import ACTIONS
from app.look.look import Look
from app.look.style import button, dress, label
from app.menus import keys_of
from app.settings import Settings
from core.checks.rules import NOT_LOOKED_AT

CAUTION = (
    "It places things and says nothing of strength. Structures that protect people are signed off "
    "by licensed practice and local rules, not here."
)

Paragraphs = Sequence[tuple[str, str]]
"""Heads with what stands under them."""


def not_looked_at() -> Paragraphs:
    """What no rule answers yet."""
    listed = ";\n".join(NOT_LOOKED_AT)
    return (
        ("No check answers these yet", f"{listed}."),
        ("So", "Where nothing is said of them, that does not mean fine: it means don't know."),
    )


def keys() -> Paragraphs:
    """Every shortcut, menu by menu."""
    found: dict[str, list[str]] = {}
    for action in ACTIONS:
        if keys_of(action):
            line = f"{action.keys}: {action.name.rstrip('…')}"
            found.setdefault(action.menu, []).append(line)
    return tuple((menu, "\n".join(lines)) for menu, lines in found.items())


def about(settings: Settings) -> Paragraphs:
    """Version, licences, caution, and where the program writes."""
    return (
        (f"Jigplate {__version__}", "Lays out a one-off car that one person builds."),
        ("Licence", "MIT; see the file LICENSE."),
        (
            "Typeface",
            "IBM Plex Sans Condensed, SIL Open Font License 1.1; see LICENSE-IBM-Plex.txt.",
        ),
        (
            "Caution",
            CAUTION,
        ),
        ("Where it writes", f"Settings and unsaved work: {settings.folder}\nLog: {settings.log}"),
    )


class Pages(QDialog):
    """Words to read, with one button to close them."""

    def __init__(self, look: Look, title: str, words: Paragraphs, parent: QWidget) -> None:
        """Show paragraphs."""
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dress(self, look)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setWidget(_paragraphs(look, words))
        shut = button("Close", "filled")
        shut.clicked.connect(self.accept)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(shut)
        outer = QVBoxLayout(self)
        px = look.px
        outer.setContentsMargins(px(22), px(16), px(22), px(16))
        outer.addWidget(label(title, "title"))
        outer.addWidget(scroll, 1)
        outer.addLayout(foot)
        self.resize(px(480), px(420))


def _paragraphs(look: Look, words: Paragraphs) -> QFrame:
    inner = QFrame()
    inner.setProperty("ground", "panel")
    layout = QVBoxLayout(inner)
    layout.setContentsMargins(0, look.px(8), 0, look.px(8))
    for head, text in words:
        layout.addWidget(label(head, "head"))
        said = label(text, "body", "ink2")
        said.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        layout.addWidget(said)
        layout.addSpacing(look.px(8))
    layout.addStretch(1)
    return inner
