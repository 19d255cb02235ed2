"""Words side by side that go on in a row below where there is no more room beside them."""

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem

Row = list[QLayoutItem]


class Flow(QLayout):
    """Two groups of widgets: at the two ends of one row, or else each in rows of its own."""

    def __init__(self) -> None:
        """Begin empty."""
        super().__init__()
        self._items: Row = []
        self._second_from = 0

    def begin_second(self) -> None:
        """What is added from now on belongs to the second group."""
        self._second_from = len(self._items)

    def addItem(self, item: QLayoutItem) -> None:
        """Add an item, as Qt asks."""
        self._items.append(item)

    def count(self) -> int:
        """How many items there are."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """One of the items; nothing past the last, which is how Qt knows."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Take an item out."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """It takes no more height than it needs."""
        return Qt.Orientation.Horizontal

    def hasHeightForWidth(self) -> bool:
        """Whether less width makes it higher."""
        return True

    def heightForWidth(self, width: int) -> int:
        """As many rows as the width makes it."""
        margins = self.contentsMargins()
        rows = self.rows(width - margins.left() - margins.right())
        return sum(map(_height, rows)) + margins.top() + margins.bottom()

    def sizeHint(self) -> QSize:
        """All in one row."""
        return self._with_margins(_width(self._items), _height(self._items))

    def minimumSize(self) -> QSize:
        """The widest item by itself."""
        wide = max((item.minimumSize().width() for item in self._items), default=0)
        return self._with_margins(wide, _height(self._items))

    def _with_margins(self, wide: int, high: int) -> QSize:
        margins = self.contentsMargins()
        wide += margins.left() + margins.right()
        return QSize(wide, high + margins.top() + margins.bottom())

    def rows(self, width: int) -> list[Row]:
        """The items row by row in a width."""
        if _width(self._items) <= width:
            return [self._items] if self._items else []
        first, second = self._items[: self._second_from], self._items[self._second_from :]
        return [*_wrapped(first, width), *_wrapped(second, width)]

    def setGeometry(self, rect: QRect) -> None:
        """Put every item in its place."""
        super().setGeometry(rect)
        margins = self.contentsMargins()
        room = rect.adjusted(margins.left(), margins.top(), -margins.right(), -margins.bottom())
        rows = self.rows(room.width())
        spare = room.width() - _width(self._items) if len(rows) == 1 else 0
        y = room.y()
        for row in rows:
            x = room.x()
            for item in row:
                if spare and item in self._items[self._second_from :]:
                    x, spare = x + spare, 0
                item.setGeometry(QRect(x, y, item.sizeHint().width(), _height(row)))
                x += item.sizeHint().width()
            y += _height(row)


def _width(row: Row) -> int:
    return sum(item.sizeHint().width() for item in row)


def _height(row: Row) -> int:
    return max((item.sizeHint().height() for item in row), default=0)


def _wrapped(items: Row, width: int) -> list[Row]:
    """Items in as few rows as hold them."""
    rows: list[Row] = []
    for item in items:
        if rows and _width([*rows[-1], item]) <= width:
            rows[-1].append(item)
        else:
            rows.append([item])
    return rows
