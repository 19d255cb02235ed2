"""The width: the chain of lengths, the strokes, where the wheel planes may stand, what helps."""

from collections.abc import Callable

from PySide6.QtWidgets import QLabel, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.width.chain_table import ChainTable
from app.panels.width.figures import (
    SIDES,
    WheelSide,
    Width,
    chain_rows,
    doubt_of,
    help_words,
    is_settled,
    stroke_words,
    why_unknown,
    width_of,
)
from app.panels.width.planes_bar import Planes, PlanesBar
from app.selection import Selection
from app.session import Edit, Session, State
from app.widgets.finding_details import sentence
from app.widgets.following import Following
from app.widgets.mending import mending
from app.widgets.rows import Section, say
from app.widgets.stroke_bar import StrokeBar
from app.widgets.wrapping_button import WrappingButton
from core.document.errors import JigplateError
from core.edits.unit import set_driven_wheels_free, settle_driven_wheels
from core.engine.finding import Remedy
from core.quantities import number

SETTLE = "Settle the width: hold the wheels where the shafts let them"
LET_GO = "The shafts hold the wheels; let them move again"


class WidthPanel(Following):
    """What adds up to the width across the driven wheels, and how much stroke is left over."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the width of the session's car."""
        super().__init__(session, parent)
        self._selection, self._look = selection, look
        self.shown: Width | None = None
        self._remedies: tuple[Remedy, ...] = ()
        self.chains: dict[WheelSide, ChainTable] = {}
        self.bars: dict[WheelSide, StrokeBar] = {}
        self.planes: PlanesBar | None = None
        self.buttons: list[WrappingButton] = []
        self._is_settled = False
        self._build()

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        self.unknown = Section(self._look, "The width", "don't know yet")
        self.unknown_words = label("", "body", "ink2")
        self.unknown.body.addWidget(self.unknown_words)
        self.chain = Section(self._look, "The chain", "centre plane to wheel plane")
        self.stroke = Section(self._look, "Stroke of the inner joints", "at the design position")
        self.stand = Section(self._look, "Where the wheel planes may stand")
        for part in (self.unknown, self.stand, self.stroke, self.chain):
            column.addWidget(part)
        for side in SIDES:
            self.chains[side] = ChainTable(self._look, side)
            self.chain.body.addWidget(self.chains[side])
        self._doubt = label("", "worked_out", "ink2")
        self.chain.body.addWidget(self._doubt)
        self._stroke_words: dict[WheelSide, QLabel] = {}
        self.help = label("", "body", "ink")
        self.stand.body.addWidget(self.help)
        self._help_row = QVBoxLayout()
        self.stand.body.addLayout(self._help_row)
        self.settle = WrappingButton(self._look)
        self.settle.clicked.connect(self._settle)
        self.stand.body.addWidget(self.settle)
        self.refusal = label("", "small", "no")
        self.refusal.hide()
        self.stand.body.addWidget(self.refusal)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        width = width_of(state)
        self.unknown.setVisible(width is None)
        for part in (self.chain, self.stroke, self.stand):
            part.setVisible(width is not None)
        if width is not None:
            self._is_settled = is_settled(state, width)
            self.settle.say(LET_GO if self._is_settled else SETTLE)
        if width is None:
            say(self.unknown_words, why_unknown(state))
        else:
            self._tell(state, width)
        self.shown = width

    def _tell(self, state: State, width: Width) -> None:
        for at, side in enumerate(SIDES):
            before = {row.name: row.source for row in self.chains[side].told}
            known = before if state.assessment.behind else None
            self.chains[side].tell(chain_rows(state, width, at, known))
        if width != self.shown:
            self._tell_strokes(width)
            self._tell_planes(width)
        doubts = [doubt_of(state, width, at) for at in (0, 1)]
        said = [number(doubt, 1) for doubt in doubts if doubt is not None]
        say(self._doubt, f"worked out; shafts ±{' and ±'.join(said)}" if said else "worked out")

    def _tell_strokes(self, width: Width) -> None:
        for at, side in enumerate(SIDES):
            stroke = width.strokes[at]
            if stroke is None:
                continue
            if side not in self.bars:
                self.bars[side] = StrokeBar(self._look, side, stroke)
                self._stroke_words[side] = label("", "small", side)
                self.stroke.body.addWidget(self._stroke_words[side])
                self.stroke.body.addWidget(self.bars[side])
            self.bars[side].show_stroke(stroke)
            say(self._stroke_words[side], stroke_words(width, at))

    def _tell_planes(self, width: Width) -> None:
        axle = width.axle
        planes = Planes(
            axle.planes,
            (axle.ranges[0].lower, axle.ranges[1].lower),
            (axle.ranges[0].upper, axle.ranges[1].upper),
        )
        if self.planes is None:
            self.planes = PlanesBar(self._look, planes)
            self.stand.body.insertWidget(1, self.planes)
        self.planes.show_planes(planes)
        self.stand.say(
            "Where the wheel planes may stand", f"track {number(axle.track, 1)} as drawn"
        )
        say(self.help, help_words(width))
        self._offer(() if width.finding is None else width.finding.remedies)

    def _offer(self, remedies: tuple[Remedy, ...]) -> None:
        """A button for each way to bring both wheel planes within stroke."""
        while len(self.buttons) < len(remedies):
            made = WrappingButton(self._look)
            made.clicked.connect(self._doer(len(self.buttons)))
            self.buttons.append(made)
            self._help_row.addWidget(made)
        for at, made in enumerate(self.buttons):
            made.setVisible(at < len(remedies))
            if at < len(remedies):
                made.say(_verb(remedies[at]))
        self._remedies = remedies

    def _doer(self, at: int) -> Callable[[], None]:
        return lambda: self._do(at)

    def _do(self, at: int) -> None:
        remedy = self._remedies[at]
        self._apply(remedy.words[:1].upper() + remedy.words[1:], mending(remedy))

    def _settle(self) -> None:
        if self._is_settled:
            self._apply("Let the driven wheels move again", set_driven_wheels_free)
        else:
            self._apply("Settle the width", settle_driven_wheels)

    def _apply(self, words: str, edit: Edit) -> None:
        self.refusal.hide()
        try:
            self._session.apply(words, edit)
        except JigplateError as error:
            say(self.refusal, sentence(str(error)))
            self.refusal.show()


def _verb(remedy: Remedy) -> str:
    words = remedy.words.replace("move the engine and gearbox", "move it")
    told = words[:1].upper() + words[1:]
    return f"Settle the width: {words}" if remedy.edit == "settle_width" else told
