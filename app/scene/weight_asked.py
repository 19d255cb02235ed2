"""The centre of gravity for a view, asked for only where it is shown and once a change."""

from app.scene.groups import Shown
from app.scene.hand import Hand
from app.session import State
from app.widgets.asking import ask
from core.document.project import Document
from core.engine.cells import NotComputedError
from core.scene.weight import WeightMark, weight_mark


class WeightAsked:
    """Keeps what was told of the last car that was asked about."""

    def __init__(self) -> None:
        """Nothing was asked yet."""
        self._of: Document | None = None
        self._mark: WeightMark | None = None

    def mark(self, state: State, shown: Shown, hand: Hand) -> WeightMark | None:
        """The centre of gravity; none where it is hidden or nothing is weighed.

        While the hand moves things it stays where it was, for weighing is too slow for a drag.
        """
        if shown == "hidden":
            return None
        if self._of is not state.document and hand.is_empty:
            self._of, self._mark = state.document, _asked(state)
        return self._mark


def _asked(state: State) -> WeightMark | None:
    try:
        return ask(state, weight_mark)
    except NotComputedError:
        return None
