"""How much travel the dampers of an axle have left at both ends, as bars."""

from collections.abc import Mapping

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.selection import Selection
from app.session import State
from app.widgets.asking import ask
from app.widgets.rows import say
from app.widgets.stroke_bar import Stroke, StrokeBar
from app.widgets.word_button import word_button
from core.assess.axle_curves import SIDES, CornerSide
from core.assess.dampers import DamperTravel, damper_travel
from core.assess.limits import limit
from core.checks.positions import position_words
from core.document.base import Ref
from core.document.lookup import Lookup
from core.document.running_gear import Corner
from core.engine.address import Address
from core.engine.cells import NotComputedError
from core.quantities import number


class DamperBar(StrokeBar):
    """A damper between fully closed and fully open, with the travel it uses."""

    def __init__(self, look: Look, side: CornerSide, stroke: Stroke) -> None:
        """Show the stroke of one side's damper, shorter towards the left."""
        self.lengths = (0.0, 0.0, 0.0)
        super().__init__(look, side, stroke)

    def show_lengths(self, stroke: Stroke, lengths: tuple[float, float, float]) -> None:
        """Show another stroke, with the lengths closed, now and open."""
        self.lengths = lengths
        self.show_stroke(stroke)

    def spoken(self) -> str:
        """All of it in one line."""
        stroke = self.stroke
        return (
            f"{self._side} damper: {_left(stroke.left_in)} closing, {_left(stroke.left_out)} "
            f"opening"
        )

    def below(self) -> tuple[str, str, str]:
        """Its lengths closed, now and open."""
        closed, now, opened = (number(length, 1) for length in self.lengths)
        return f"closed {closed}", f"now {now}", f"open {opened}"


def _left(left: float) -> str:
    return f"{number(left, 1)} left" if left >= 0.0 else f"{number(-left, 1)} too much"


class Dampers(QWidget):
    """A bar for each side, or what is to be entered for one."""

    def __init__(self, selection: Selection, look: Look) -> None:
        """Make it without bars."""
        super().__init__()
        self._selection, self._look = selection, look
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(look.px(2))
        self.words = {side: label("", "small", side) for side in SIDES}
        self.enter = word_button("Enter its lengths")
        self.bars: dict[CornerSide, DamperBar] = {}
        self._missing: Address | None = None
        for side in SIDES:
            self._column.addWidget(self.words[side])
            self.bars[side] = DamperBar(look, side, Stroke(1.0, 1.0, 0.0, None))
            self._column.addWidget(self.bars[side])
        self._column.addWidget(self.enter, 0, Qt.AlignmentFlag.AlignLeft)
        self.enter.clicked.connect(self._ask)

    def _ask(self) -> None:
        if self._missing is not None:
            self._selection.figure_wanted.emit(self._missing)

    def tell(
        self,
        state: State,
        corners: Mapping[CornerSide, Ref],
        now: Mapping[CornerSide, float | None],
    ) -> None:
        """Show the dampers of both corners.

        Args:
            state: the car.
            corners: of each side.
            now: length where the travel strip stands, of each side that is known.
        """
        self._missing = None
        for side in SIDES:
            self._tell_side(state, side, corners[side], now.get(side))
        self.enter.setVisible(self._missing is not None)

    def _tell_side(self, state: State, side: CornerSide, corner: Ref, now: float | None) -> None:
        thing = Lookup(state.document).by_id[corner.id]
        assert isinstance(thing, Corner)
        bar, words = self.bars[side], self.words[side]
        try:
            found = ask(state, damper_travel, corner)
            kept = ask(state, limit, "damper_left", corner, thing.axle).value
        except NotComputedError as error:
            bar.hide()
            say(words, f"{side}: don't know, because {error}")
            if thing.damper is None:
                self._wants(corner, "damper", "Enter the damper")
            return
        say(words, f"{side}: {_told(found)}")
        bar.setVisible(found.closed is not None and found.open is not None)
        if found.closed is None or found.open is None:
            which = "closed" if found.closed is None else "open"
            self._wants(corner, f"damper.{which}_length", f"Enter its length fully {which}")
            return
        _show(bar, found, kept, found.at_design if now is None else now)

    def _wants(self, corner: Ref, path: str, words: str) -> None:
        if self._missing is None:
            self._missing = Address(corner, path)
            self.enter.setText(words)


def _show(bar: DamperBar, found: DamperTravel, kept: float, now: float) -> None:
    assert found.closed is not None
    assert found.open is not None
    middle, half = (found.closed + found.open) / 2.0, (found.open - found.closed) / 2.0
    used = (found.shortest - middle, found.longest - middle)
    stroke = Stroke(half - kept, half - kept, now - middle, kept or None, used)
    bar.show_lengths(stroke, (found.closed, now, found.open))


def _told(found: DamperTravel) -> str:
    """Shortest and longest in words, and which of its own lengths is not known."""
    short = position_words(found.shortest_at, other=found.shortest_other)
    long = position_words(found.longest_at, other=found.longest_other)
    used = f"{number(found.shortest, 1)} at {short}, {number(found.longest, 1)} at {long}"
    unknown = [
        word for word, own in (("closed", found.closed), ("open", found.open)) if own is None
    ]
    if not unknown:
        return used
    return f"{used}; don't know how long it is fully {' and fully '.join(unknown)}"
