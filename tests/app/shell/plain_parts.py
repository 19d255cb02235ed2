"""Plain widgets in the places of the window's parts, and answers in place of dialogs."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from app.asks import Asks, Unsaved
from app.desk import ViewName
from app.look.look import Look
from app.panels.tubes.actions import Tool
from app.parts import Parts
from app.selection import Selection
from app.session import Session
from app.table_ask import TableWish
from app.window import MainWindow
from core.document.base import Ref


class PlainPart(QWidget):
    """A part with one button in it."""

    def __init__(self, _session: Session, _selection: Selection, _look: Look) -> None:
        super().__init__()
        self.button = QPushButton("part")
        layout = QVBoxLayout(self)
        layout.addWidget(self.button)


class PlainDetails(PlainPart):
    """Details that only write down what was asked of them."""

    def __init__(self, session: Session, selection: Selection, look: Look) -> None:
        super().__init__(session, selection, look)
        self.asked: list[str] = []

    def take_out(self) -> None:
        self.asked.append("take out")

    def rename(self) -> None:
        self.asked.append("rename")

    def type_at(self, path: str) -> None:
        self.asked.append(f"type {path}")


class PlainThings(PlainPart):
    """Tables that only write down what was asked of them."""

    def __init__(self, session: Session, selection: Selection, look: Look) -> None:
        super().__init__(session, selection, look)
        self.asked: list[str] = []

    def show_kind(self, field: str) -> None:
        self.asked.append(f"list {field}")

    def begin(self, field: str) -> None:
        self.asked.append(f"make {field}")


class PlainTubes(PlainPart):
    """Tube tools that only write down what was asked of them."""

    def __init__(self, session: Session, selection: Selection, look: Look) -> None:
        super().__init__(session, selection, look)
        self.asked: list[str] = []
        self.busy = False

    def begin(self, tool: Tool) -> None:
        self.asked.append(tool)

    def is_in_use(self) -> bool:
        return self.busy


class PlainViews(PlainPart):
    """Views that only write down what was asked of them."""

    type_wanted = Signal(object)

    def __init__(self, session: Session, selection: Selection, look: Look) -> None:
        super().__init__(session, selection, look)
        self.asked: list[str] = []
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def show_view(self, name: ViewName) -> None:
        self.asked.append(name)

    def show_all(self) -> None:
        self.asked.append("fit")

    def show_chosen(self) -> None:
        self.asked.append("chosen")

    def set_reduced_motion(self, reduced: bool) -> None:  # noqa: FBT001 - as the real one
        self.asked.append("less motion" if reduced else "motion")

    def close_views(self) -> None:
        self.asked.append("closed")


class PlainCurves(PlainPart):
    """Curves that can only be put away."""

    closed = Signal()


class PlainTravel(PlainPart):
    """A travel strip that notes whether it may move by itself."""

    may_move = True

    def set_reduced_motion(self, reduced: bool) -> None:  # noqa: FBT001 - as the real one
        """Note it."""
        self.may_move = not reduced


PLAIN = Parts(
    order_of_work=PlainPart,
    step_panel=PlainPart,
    details=PlainDetails,
    things=PlainThings,
    tubes=PlainTubes,
    bought=PlainPart,
    curves=PlainCurves,
    travel_strip=PlainTravel,
    gauges=PlainPart,
    views=PlainViews,
)


class Answers(Asks):
    """Answers that were given before; what is asked is written down."""

    def __init__(self, look: Look, window: QWidget) -> None:
        super().__init__(look, window)
        self.asked: list[str] = []
        self.unsaved_answer: Unsaved = "drop"
        self.path: Path | None = None
        self.line: str | None = None
        self.wish: TableWish | None = TableWish()

    def open_file(self, folder: Path) -> Path | None:
        self.asked.append("open")
        return self.path

    def save_file(self, suggested: Path) -> Path | None:
        self.asked.append(f"save {suggested.name}")
        return self.path

    def table_file(self, suggested: Path) -> Path | None:
        self.asked.append(f"table {suggested.name}")
        return self.path

    def table(self, datums: Sequence[tuple[str, Ref]]) -> TableWish | None:
        self.asked.append(f"datum {' '.join(name for name, _ in datums)}".strip())
        return self.wish

    def unsaved(self, car: str) -> Unsaved:
        self.asked.append(f"unsaved {car}")
        return self.unsaved_answer

    def words(self, title: str, question: str, start: str = "") -> str | None:
        self.asked.append(title)
        return self.line


def answer_with(window: MainWindow, answers: Answers) -> None:
    """Put given answers in the place of a window's dialogs."""
    window.asks = answers
    window.files.asks = answers
    window.chosen.asks = answers
