"""What a corner is settled for: a box for each aim, what is wanted of it, and what it weighs."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QLabel, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.widgets.free_figure import FreeFigure
from app.widgets.rows import say
from app.widgets.tick_box import TickBox
from core.quantities import number
from core.study.settle_records import Offered, Wish


class WishRow(QWidget):
    """One aim; what is wanted follows the drawing until it is typed."""

    def __init__(self, look: Look, offered: Offered, parent: QWidget | None = None) -> None:
        """Show an aim."""
        super().__init__(parent)
        kind = offered.kind
        self.offered, self._is_typed = offered, False
        self.box = TickBox(look, kind.words)
        self.box.setChecked(kind.is_on)
        self.box.setAccessibleName(f"settle for {kind.words}")
        self.present = label("", "field_strong")
        self.present.setWordWrap(False)
        unit = "deg" if kind.unit == "deg" else "mm" if kind.unit == "mm" else ""
        self.wanted = FreeFigure(look, unit, offered.wanted)
        self.wanted.setAccessibleName(f"{kind.words} wanted")
        self.wanted.kept.connect(self._typed)
        self.weight = FreeFigure(look, "", 1.0, 0.0)
        self.weight.setAccessibleName(f"what {kind.words} weighs against the others")
        self._lay_out(look)
        self.tell(offered)

    def _lay_out(self, look: Look) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        first, second = QHBoxLayout(), QHBoxLayout()
        first.addWidget(self.box, 1)
        first.addWidget(self.present)
        second.setContentsMargins(look.px(24), 0, 0, look.px(4))
        second.setSpacing(look.px(5))
        for words, figure in (("wanted", self.wanted), ("weight", self.weight)):
            second.addWidget(_word(words))
            second.addWidget(figure)
            second.addSpacing(look.px(8))
        second.addStretch(1)
        figures = QWidget()
        figures.setLayout(second)
        figures.setVisible(self.box.isChecked())
        self.box.toggled.connect(figures.setVisible)
        column.addLayout(first)
        column.addWidget(figures)

    def tell(self, offered: Offered) -> None:
        """Show how the aim stands now."""
        self.offered = offered
        kind = offered.kind
        say(self.present, f"{number(offered.present, kind.digits)} {kind.unit}")
        if not self._is_typed:
            self.wanted.show_value(offered.wanted)

    def _typed(self, _value: float) -> None:
        self._is_typed = True
        self.box.setChecked(True)

    def wish(self) -> Wish | None:
        """What is wanted; nothing where the aim does not count."""
        if not self.box.isChecked():
            return None
        return Wish(self.offered.kind.key, self.wanted.value, self.weight.value)

    def keep(self) -> bool:
        """Keep what is being typed; whether it can be."""
        return all([self.wanted.keep(), self.weight.keep()])


class Wishes(QWidget):
    """A row for each aim that the corner has."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        """Show none yet."""
        super().__init__(parent)
        self._look = look
        self.rows: dict[str, WishRow] = {}
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)

    def tell(self, found: Sequence[Offered]) -> None:
        """Show these aims; rows of aims that the corner has no longer go."""
        keys = [each.kind.key for each in found]
        for key in [key for key in self.rows if key not in keys]:
            row = self.rows.pop(key)
            self._column.removeWidget(row)
            row.hide()
            row.deleteLater()
        for at, each in enumerate(found):
            if each.kind.key in self.rows:
                self.rows[each.kind.key].tell(each)
            else:
                made = self.rows[each.kind.key] = WishRow(self._look, each)
                self._column.insertWidget(at, made)

    def forget(self) -> None:
        """Let go of everything typed: another corner is meant."""
        self.tell(())

    def wanted(self) -> tuple[Wish, ...]:
        """What counts."""
        found = (row.wish() for row in self.rows.values())
        return tuple(wish for wish in found if wish is not None)

    def keep(self) -> bool:
        """Keep what is being typed; whether all of it can be."""
        kept = [row.keep() for row in self.rows.values()]
        return all(kept)


def _word(words: str) -> QLabel:
    made = label(words, "small", "ink2")
    made.setWordWrap(False)
    made.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
    return made
