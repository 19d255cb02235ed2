"""The look in force: theme and scale, given to whoever draws."""

from typing import Literal, cast

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QFont, QGuiApplication

from app.look import tokens
from app.look.fonts import FontRole, font, load_fonts
from app.look.tokens import ColourName
from core.engine.finding import Verdict

Theme = Literal["light", "dark", "system"]

LEAST_SCALE, MOST_SCALE, SCALE_STEP = 0.9, 2.0, 0.1


class Look(QObject):
    """Colours by meaning, fonts by use, lengths by scale; `changed` when any of them change."""

    changed = Signal()

    def __init__(
        self, theme: Theme = "system", scale: float = 1.0, parent: QObject | None = None
    ) -> None:
        """Begin with a theme and a scale; a scale out of range is brought into it."""
        super().__init__(parent)
        load_fonts()
        self._theme: Theme = theme
        self._scale = _in_range(scale)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._system_changed)

    @property
    def theme(self) -> Theme:
        """What was asked for."""
        return self._theme

    @property
    def scale(self) -> float:
        """By how much all sizes are larger than at 100 %."""
        return self._scale

    @property
    def is_dark(self) -> bool:
        """Whether the dark theme is in force."""
        if self._theme == "system":
            scheme = QGuiApplication.styleHints().colorScheme()
            return scheme == Qt.ColorScheme.Dark
        return self._theme == "dark"

    def set_theme(self, theme: Theme) -> None:
        """Change to a theme."""
        if theme != self._theme:
            self._theme = theme
            self.changed.emit()

    def set_scale(self, scale: float) -> None:
        """Change all sizes."""
        wanted = _in_range(scale)
        if wanted != self._scale:
            self._scale = wanted
            self.changed.emit()

    def hex(self, name: ColourName) -> str:
        """A colour as #RRGGBB."""
        return (tokens.DARK if self.is_dark else tokens.LIGHT)[name]

    def colour(self, name: ColourName, opacity: float = 1.0) -> QColor:
        """A colour, seen through if `opacity` is below 1."""
        made = QColor(self.hex(name))
        made.setAlphaF(opacity)
        return made

    def wash(self, verdict: Verdict) -> QColor:
        """The pale ground behind a verdict."""
        return self.colour(cast("ColourName", f"wash_{verdict}"))

    def font(self, role: FontRole) -> QFont:
        """The font for a use."""
        return font(role, self._scale)

    def px(self, length: float) -> int:
        """A length of the layout in whole pixels; never less than 1 where something was asked."""
        return max(1, int(length * self._scale + 0.5)) if length > 0 else 0

    def _system_changed(self) -> None:
        if self._theme == "system":
            self.changed.emit()


def _in_range(scale: float) -> float:
    return round(min(max(scale, LEAST_SCALE), MOST_SCALE), 2)
