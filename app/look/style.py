"""The stylesheet and palette that give plain Qt widgets the look in force.

A widget says what it is by properties: `role` of a label (a font use), `kind` of a button
(`filled`, `plain`, `link`, `word`), `ground` of a frame (`panel`, `card`, `page`, `well`).
"""

from pathlib import Path

from PySide6.QtCore import QObject
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QLabel, QPushButton, QWidget

from app.look.fonts import CUTS, FAMILY, FontRole
from app.look.look import Look
from app.look.tokens import ColourName

ICONS = Path(__file__).resolve().parents[2] / "assets" / "icons"
"""Signs that a stylesheet can only take from files; the same strokes as in `app.look.icons`."""

_PALETTE: tuple[tuple[QPalette.ColorRole, ColourName], ...] = (
    (QPalette.ColorRole.Window, "panel"),
    (QPalette.ColorRole.WindowText, "ink"),
    (QPalette.ColorRole.Base, "card"),
    (QPalette.ColorRole.AlternateBase, "well"),
    (QPalette.ColorRole.Text, "ink"),
    (QPalette.ColorRole.Button, "panel"),
    (QPalette.ColorRole.ButtonText, "ink"),
    (QPalette.ColorRole.BrightText, "no"),
    (QPalette.ColorRole.ToolTipBase, "card"),
    (QPalette.ColorRole.ToolTipText, "ink"),
    (QPalette.ColorRole.PlaceholderText, "ink3"),
    (QPalette.ColorRole.Highlight, "sel"),
    (QPalette.ColorRole.HighlightedText, "on_sel"),
    (QPalette.ColorRole.Link, "sel"),
    (QPalette.ColorRole.Mid, "edge"),
    (QPalette.ColorRole.Dark, "edge"),
    (QPalette.ColorRole.Light, "card"),
    (QPalette.ColorRole.Midlight, "rule"),
)


class _Dresser(QObject):
    """Keeps one window in step with the look, for as long as the window lives."""

    def __init__(self, widget: QWidget, look: Look) -> None:
        super().__init__(widget)
        self._widget, self._look = widget, look
        look.changed.connect(self.follow)
        self.follow()

    def follow(self) -> None:
        """Give the window the look as it is now."""
        self._widget.setFont(self._look.font("body"))
        self._widget.setPalette(palette(self._look))
        self._widget.setStyleSheet(stylesheet(self._look))


def dress(widget: QWidget, look: Look) -> None:
    """Give a window and all in it the look, now and whenever the look changes."""
    _Dresser(widget, look)


def label(words: str, role: FontRole, ink: ColourName = "ink") -> QLabel:
    """A label in the font of a use and an ink; it wraps."""
    made = QLabel(words)
    made.setWordWrap(True)
    made.setProperty("role", role)
    made.setProperty("ink", ink)
    return made


def button(words: str, kind: str = "plain") -> QPushButton:
    """A button that looks `filled`, `plain`, or like a `link` or a `word`."""
    made = QPushButton(words)
    made.setProperty("kind", kind)
    made.setAutoDefault(False)
    return made


def set_property(widget: QWidget, name: str, value: object) -> None:
    """Change a property that the stylesheet looks at, and draw the widget anew."""
    if widget.property(name) != value:
        widget.setProperty(name, value)
        widget.style().unpolish(widget)
        widget.style().polish(widget)


def palette(look: Look) -> QPalette:
    """Qt's palette in the colours in force."""
    made = QPalette()
    for role, name in _PALETTE:
        made.setColor(role, look.colour(name))
    for role in (
        QPalette.ColorRole.WindowText,
        QPalette.ColorRole.Text,
        QPalette.ColorRole.ButtonText,
    ):
        made.setColor(QPalette.ColorGroup.Disabled, role, look.colour("ink3"))
    return made


def stylesheet(look: Look) -> str:
    """The stylesheet for a top-level widget."""
    words: dict[str, str] = {name: look.hex(name) for name in _NEEDED}
    sizes = {f"px{n}": f"{look.px(n)}px" for n in (1, 2, 3, 4, 6, 8, 10, 12, 14, 16, 20, 22, 28)}
    fold = (ICONS / f"fold-{'dark' if look.is_dark else 'light'}.png").as_posix()
    return _fonts(look) + _inks(look) + _SHEET.format_map({**words, **sizes, "fold": fold})


def _fonts(look: Look) -> str:
    return "\n".join(
        f'*[role="{role}"] {{ font-family: "{FAMILY}"; font-size: '
        f"{max(1, int(cut.size * look.scale + 0.5))}px; font-weight: {cut.weight.value}; "
        f"font-style: {'italic' if cut.italic else 'normal'}; }}"
        for role, cut in CUTS.items()
    )


_INKS: tuple[ColourName, ...] = (
    "ink",
    "ink2",
    "ink3",
    "fine",
    "tight",
    "no",
    "unknown",
    "sel",
    "left",
    "right",
    "measured",
    "guessed",
)


def _inks(look: Look) -> str:
    return "\n".join(f'QLabel[ink="{name}"] {{ color: {look.hex(name)}; }}' for name in _INKS)


_NEEDED: tuple[ColourName, ...] = (
    "ink",
    "ink2",
    "ink3",
    "edge",
    "rule",
    "sel",
    "on_sel",
    "page",
    "panel",
    "card",
    "well",
    "wash_selected",
    "no",
)

_SHEET = """
QWidget {{ color: {ink}; }}
QMainWindow, QDialog {{ background: {panel}; }}
QFrame[ground="page"] {{ background: {page}; }}
QFrame[ground="panel"] {{ background: {panel}; }}
QFrame[ground="card"] {{ background: {card}; border: 1px solid {edge}; }}
QFrame[ground="well"] {{ background: {well}; }}
QFrame[ground="no"] {{ background: {card}; border: 1px solid {no}; }}
QFrame[line="below"] {{ border: none; border-bottom: 1px solid {rule}; }}
QToolTip {{ background: {card}; color: {ink}; border: 1px solid {edge}; padding: {px4}; }}

QMenuBar {{ background: transparent; spacing: 0; }}
QMenuBar::item {{ padding: {px6} {px8}; background: transparent; color: {ink2}; }}
QMenuBar::item:selected {{ color: {sel}; background: {wash_selected}; }}
QMenu {{ background: {card}; border: 1px solid {edge}; padding: {px4} 0; }}
QMenu::item {{ padding: {px6} {px22} {px6} {px22}; }}
QMenu::item:selected {{ background: {wash_selected}; color: {sel}; }}
QMenu::item:disabled {{ color: {ink3}; }}
QMenu::separator {{ height: 1px; background: {rule}; margin: {px4} {px12}; }}

QPushButton {{ background: {card}; border: 1px solid {edge}; padding: {px6} {px14};
  border-radius: 0; min-height: {px16}; }}
QPushButton:hover {{ border-color: {ink}; }}
QPushButton:focus {{ border: 2px solid {sel}; padding: {px4} {px12}; }}
QPushButton:disabled {{ border: 1px dashed {edge}; color: {ink2}; background: transparent; }}
QPushButton[kind="filled"] {{ background: {sel}; color: {on_sel}; border: 1px solid {sel}; }}
QPushButton[kind="filled"]:focus {{ border: 2px solid {ink}; }}
QPushButton[kind="link"] {{ background: transparent; border: none; color: {sel};
  padding: {px4} {px6}; text-align: left; }}
QPushButton[kind="link"]:hover {{ text-decoration: underline; }}
QPushButton[kind="link"]:focus {{ border: 2px solid {sel}; padding: {px2} {px4}; }}
QPushButton[kind="word"] {{ background: transparent; border: none; padding: {px4} {px8}; }}
QPushButton[kind="word"]:hover {{ color: {sel}; }}
QPushButton[kind="word"]:focus {{ border: 2px solid {sel}; padding: {px2} {px6}; }}
QPushButton[kind="word"]:disabled, QPushButton[kind="link"]:disabled {{ border: none; }}

QToolButton {{ background: transparent; border: none; padding: {px4}; }}
QToolButton:hover {{ background: {wash_selected}; }}
QToolButton:focus {{ border: 2px solid {sel}; padding: {px2}; }}
QToolButton::menu-indicator {{ image: none; width: 0; }}

QLineEdit, QPlainTextEdit, QTextEdit, QComboBox {{ background: {card}; border: 1px solid {edge};
  padding: {px4} {px6}; selection-background-color: {sel}; selection-color: {on_sel}; }}
QLineEdit:focus, QPlainTextEdit:focus, QTextEdit:focus {{ border: 2px solid {sel}; }}
QListView, QListWidget, QTreeView, QTableView {{ background: {card}; border: 1px solid {rule};
  outline: none; }}
QListView::item {{ padding: {px4} {px8}; }}
QListView::item:selected, QTableView::item:selected {{ background: {wash_selected};
  color: {sel}; }}

QComboBox::drop-down {{ border: none; width: {px22}; }}
QComboBox::down-arrow {{ image: url("{fold}"); width: {px14}; height: {px14}; }}
QComboBox:focus {{ border: 2px solid {sel}; }}
QComboBox QAbstractItemView {{ background: {card}; border: 1px solid {edge};
  selection-background-color: {wash_selected}; selection-color: {sel}; outline: none; }}

QScrollArea {{ border: none; background: transparent; }}
QScrollArea > QWidget > QWidget {{ background: transparent; }}
QScrollBar:vertical {{ background: transparent; width: {px10}; margin: 0; }}
QScrollBar:horizontal {{ background: transparent; height: {px10}; margin: 0; }}
QScrollBar::handle {{ background: {edge}; margin: {px3}; min-height: {px28}; min-width: {px28}; }}
QScrollBar::handle:hover {{ background: {ink2}; }}
QScrollBar::add-line, QScrollBar::sub-line, QScrollBar::add-page, QScrollBar::sub-page {{
  background: none; border: none; width: 0; height: 0; }}
QSplitter::handle {{ background: {rule}; }}
QSplitter::handle:hover {{ background: {sel}; }}
QHeaderView::section {{ background: {panel}; border: none; border-bottom: 1px solid {rule};
  padding: {px4}; color: {ink2}; }}
"""
