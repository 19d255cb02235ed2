"""A place or a direction: three figures, each with its axis in words."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.selection import Selection
from app.session import Session
from app.widgets.binding import Binding, Bound, Draft, Drawn
from app.widgets.field import Field
from app.widgets.number_field import NumberField
from core.document.base import Vec3
from core.engine.address import Address
from core.workshop.field_shapes import Shape
from core.workshop.kinds import PLACE_AXES


class PlaceField(Field):
    """Three figures, one an axis; a place counts ahead, left and up."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        at: Address | Binding,
        parent: QWidget | None = None,
        *,
        drawn: Drawn | None = None,
    ) -> None:
        """Show the place at an address, or wait for one."""
        super().__init__(session, selection, look, at, parent, drawn=drawn)
        rows = QWidget(self)
        grid = QGridLayout(rows)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(look.px(8))
        grid.setVerticalSpacing(look.px(2))
        grid.setColumnStretch(1, 1)
        self.figures = {axis: self._figure(axis) for axis in Vec3._fields}
        for row, (axis, figure) in enumerate(self.figures.items()):
            words = label(axis_words(axis, self.binding.unit), "small", "ink2")
            words.setWordWrap(False)
            words.setFixedWidth(look.px(46))
            words.setContentsMargins(0, look.px(5), 0, 0)
            top = Qt.AlignmentFlag.AlignTop
            grid.addWidget(words, row, 0, top)
            grid.addWidget(figure, row, 1, top)
        self.setFocusProxy(self.figures["x"])
        self.finish(rows)

    def _figure(self, axis: str) -> NumberField:
        at: Address | Draft
        if isinstance(self.binding, Bound):
            address = self.binding.address
            at = Address(address.ref, f"{address.path}.{axis}")
        else:
            words = f"{self.binding.words}, {axis_words(axis, self.binding.unit)}"
            given = self.binding.value()
            start = getattr(given, axis) if isinstance(given, Vec3) else None
            at = Draft(Shape("number"), words, self.binding.unit, value=start)
        figure = NumberField(self.session, self.selection, self.look, at, self, drawn=self.drawn)
        figure.kept.connect(self._axis_kept)
        return figure

    def _axis_kept(self) -> None:
        if isinstance(self.binding, Draft):
            self.binding.keep(self.given())
        self.kept.emit()

    def given(self) -> Vec3 | None:
        """The place, once all three figures are there."""
        values = [figure.binding.value() for figure in self.figures.values()]
        if any(value is None for value in values):
            return None
        x, y, z = (float(value) for value in values if isinstance(value, int | float))
        return Vec3(x, y, z)

    @property
    def is_begun(self) -> bool:
        """Whether some figures are given and others are not."""
        count = sum(f.binding.value() is not None for f in self.figures.values())
        return 0 < count < len(self.figures)

    def settle(self) -> bool:
        """Keep what has been typed; whether nothing is left open."""
        settled = [figure.settle() for figure in self.figures.values()]
        return all(settled)


def axis_words(axis: str, unit: str) -> str:
    """An axis of a place with what it counts; of a direction its letter alone."""
    return f"{axis} {PLACE_AXES[axis]}" if unit else axis
