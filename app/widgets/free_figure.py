"""A figure that belongs to no thing of the car: typed with units and sums, nudged, refused."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.look.look import Look
from app.widgets.figure_line import HEIGHT, FigureLine
from app.widgets.figures import at_rest, in_full, read_figure, step_of
from core.quantities import QuantityError

WIDTH = 62.0


class FreeFigure(FigureLine):
    """Its own value; Enter or leaving keeps what is typed, Esc brings the old one back."""

    kept = Signal(float)
    """Another value was given."""

    def __init__(
        self,
        look: Look,
        unit: str,
        value: float,
        least: float | None = None,
        parent: QWidget | None = None,
        *,
        wide: float = WIDTH,
    ) -> None:
        """Show a value.

        Args:
            look: theme and scale.
            unit: as `app.widgets.figures` reads it.
            value: at first.
            least: the value must be above it; None where any will do.
            parent: the owner of the widget.
            wide: how wide it stands, before it is scaled.
        """
        self._wide = wide
        self._of, self._least, self.value = unit, least, value
        self._typed = False
        super().__init__(look, parent)
        self.textEdited.connect(self._edited)
        self.returnPressed.connect(self.keep)
        self.escaped.connect(self.restore)
        self.nudged.connect(self._nudge)
        self.entered.connect(self._entered)
        self.left.connect(self._left)
        self.restore()

    def dress(self) -> None:
        """Take the colours and sizes in force."""
        super().dress()
        self.setFixedSize(self.look.px(self._wide), self.look.px(HEIGHT))

    def show_value(self, value: float) -> None:
        """Show another value; what is being typed stays."""
        self.value = value
        if not self._typed:
            self.restore()

    def keep(self) -> bool:
        """Keep what is typed; whether it can be."""
        if not self._typed:
            return True
        try:
            value = read_figure(self.text(), self._of)
        except QuantityError as error:
            return self._wrong(str(error))
        if self._least is not None and not value > self._least:
            return self._wrong(f"It must be above {at_rest(self._least, self._of)}.")
        self._typed = False
        self._become(value)
        return True

    def restore(self) -> None:
        """Show the value again."""
        self._typed = False
        self.line = "rest"
        self.setToolTip("")
        write = in_full if self.hasFocus() else at_rest
        self.show_figure(write(self.value, self._of), self._of)
        self.setModified(False)
        self.update()

    def _become(self, value: float) -> None:
        is_other = value != self.value
        self.value = value
        self.restore()
        if is_other:
            self.kept.emit(value)

    def _wrong(self, words: str) -> bool:
        self.line = "wrong"
        self.setToolTip(words)
        self.setAccessibleDescription(words)
        self.update()
        return False

    def _edited(self) -> None:
        self._typed = True
        self.line = "rest"

    def _entered(self) -> None:
        if not self._typed:
            self.restore()
            self.selectAll()

    def _left(self) -> None:
        if self.keep():
            self.restore()

    def _nudge(self, steps: float) -> None:
        if not self.keep():
            return
        value = round(self.value + steps * step_of(self._of), 9)
        if self._least is None or value > self._least:
            self._become(value)
            self.selectAll()
