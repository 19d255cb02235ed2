"""The joints at the ends of links: tilt needed and allowed, and a bolt that would need less."""

from collections.abc import Mapping, Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.signs import VerdictMark
from app.look.style import label, set_property
from app.panels.links.joint_lines import JointLine, Offer, joint_lines, offer_of
from app.selection import Selection
from app.session import Session, State
from app.widgets.field import Sentence, as_sentence
from app.widgets.fold_line import FoldLine
from app.widgets.rows import say
from app.widgets.telling import BEFORE
from app.widgets.word_button import word_button
from app.widgets.wrapping_button import WrappingButton
from core.assess.axle_curves import CornerSide
from core.document.base import Ref
from core.document.errors import JigplateError
from core.document.project import Document
from core.edits.bolts import bolt_of, turn_bolt
from core.edits.refusals import HeldError
from core.edits.values import set_free
from core.engine.assess import Assessment
from core.engine.cells import NotComputedError
from core.quantities import number

COLUMNS = (44.0, 44.0, 44.0)
"""Widths of needs, allows and spare."""
HEADS = ("needs", "allows", "spare")


class JointRow(QWidget):
    """One joint: a line with its figures, and opened below it where they are from."""

    def __init__(self, session: Session, selection: Selection, look: Look) -> None:
        """Make an empty row."""
        super().__init__()
        self._session, self._selection, self._look = session, selection, look
        self.line: JointLine | None = None
        self.offer: Offer | None = None
        self._behind = False
        self._offered: JointLine | None = None
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setVerticalSpacing(0)
        self._grid.setColumnStretch(1, 1)
        self.link = label("", "small", "ink2")
        self.mark = VerdictMark(look, "unknown")
        self.name = FoldLine(look, self)
        self.figures = [_figure() for _ in COLUMNS]
        self.enter = word_button("don't know")
        self.detail = label("", "small", "ink2")
        self.point = word_button("Its details")
        self.turn = WrappingButton(look)
        self.sentence = Sentence(look, self)
        self._lay_out()
        self.name.toggled.connect(self._show)
        self.enter.clicked.connect(self._enter)
        self.point.clicked.connect(self._choose)
        self.turn.clicked.connect(self.turn_so)
        look.changed.connect(self._refit)
        self._refit()

    def _lay_out(self) -> None:
        grid = self._grid
        grid.addWidget(self.link, 0, 0, 1, 5)
        grid.addWidget(self.mark, 1, 0)
        grid.addWidget(self.name, 1, 1)
        for column, figure in enumerate(self.figures, 2):
            grid.addWidget(figure, 1, column)
        grid.addWidget(self.enter, 1, 3, 1, 2, Qt.AlignmentFlag.AlignRight)
        for row, widget in enumerate((self.detail, self.turn, self.sentence), 2):
            grid.addWidget(widget, row, 1, 1, 4)
        grid.addWidget(self.point, 5, 1, 1, 4, Qt.AlignmentFlag.AlignLeft)

    def _refit(self) -> None:
        self._grid.setHorizontalSpacing(self._look.px(4))
        for column, wide in enumerate(COLUMNS, 2):
            self._grid.setColumnMinimumWidth(column, self._look.px(wide))

    def head(self, words: str) -> None:
        """Stand under the name of a link, or under the joint before."""
        say(self.link, words)
        self.link.setVisible(bool(words))

    def tell(self, line: JointLine, *, behind: bool) -> None:
        """Show another joint; one that is the same touches nothing."""
        if line != self.line:
            if self.line is not None and self.line.end != line.end:
                self.name.setChecked(False)
                self.sentence.clear()
            self.line = line
            self.name.setText(line.which)
            self.name.setToolTip(line.told)
            self.name.setAccessibleName(_spoken(line))
            figures = line.needs, line.allows, line.spare
            for told, words in zip(self.figures, figures, strict=True):
                say(told, words)
            say(self.detail, line.told)
        self._behind = behind
        for told in self.figures:
            set_property(told, "ink", "ink3" if behind else "ink")
        self.mark.show_verdict("unknown" if behind else line.verdict)
        self._show()

    def _show(self) -> None:
        line = self.line
        if line is None:
            return
        is_open = self.name.isChecked()
        for told in self.figures[1:]:
            told.setVisible(line.missing is None)
        self.enter.setVisible(line.missing is not None)
        self.detail.setVisible(is_open)
        self.point.setVisible(is_open)
        wanted = (is_open or line.verdict in ("no", "tight")) and not self._behind
        if wanted and self._offered != line:
            self._offered, self.offer = line, offer_of(self._session.state, line)
            self.turn.say("" if self.offer is None else offer_words(self.offer))
        self.turn.setVisible(wanted and self.offer is not None)

    def _enter(self) -> None:
        if self.line is not None and self.line.missing is not None:
            self._selection.figure_wanted.emit(self.line.missing)

    def _choose(self) -> None:
        if self.line is not None:
            self._selection.choose(self.line.end)

    def turn_so(self) -> None:
        """Turn the bolt as it is offered."""
        if self.line is not None and self.offer is not None:
            self._turn(self.line.end, self.offer, free=False)

    def _turn(self, end: Ref, offer: Offer, *, free: bool) -> None:
        def edit(document: Document) -> Document:
            ready = set_free(document, bolt_of(document, end)) if free else document
            return turn_bolt(ready, end, offer.direction)

        name = "" if self.line is None else self.line.name
        try:
            self._session.apply(f"Turn the {offer.what} of {name}", edit)
        except HeldError as error:
            self.sentence.say(
                as_sentence(error), "Set free and turn", lambda: self._turn(end, offer, free=True)
            )
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
        else:
            self.sentence.clear()


def offer_words(offer: Offer) -> str:
    """A better direction in words."""
    return (
        f"Turn the {offer.what} by {number(offer.turn_deg, 1)}°: then it tilts no more than "
        f"{number(offer.tilt_deg, 1)}°"
    )


def _spoken(line: JointLine) -> str:
    needs = f"needs {line.needs}" if line.needs else "don't know what it needs"
    allows = f"allows {line.allows}, {line.spare} to spare" if line.allows else (
        "don't know what it allows"
    )  # fmt: skip
    return f"{line.name}: {needs}, {allows}"


def _figure() -> QLabel:
    made = label("", "table")
    made.setWordWrap(False)
    made.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
    return made


class Joints(QWidget):
    """Every joint of an axle; they follow when a drag ends, and are greyed until then."""

    def __init__(self, session: Session, selection: Selection, look: Look) -> None:
        """Make an empty list."""
        super().__init__()
        self._session, self._selection, self._look = session, selection, look
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(look.px(2))
        self.words = label("", "body", "ink2")
        self.heads = QWidget()
        self._heads = QGridLayout(self.heads)
        self._heads.setContentsMargins(0, 0, 0, 0)
        self._heads.setColumnStretch(0, 1)
        for column, words in enumerate(HEADS, 1):
            head = _figure()
            head.setText(words)
            head.setProperty("role", "small")
            head.setProperty("ink", "ink2")
            self._heads.addWidget(head, 0, column)
        self._column.addWidget(self.words)
        self._column.addWidget(self.heads)
        self.rows: list[JointRow] = []
        self._told: tuple[Assessment, Mapping[CornerSide, Ref], str] | None = None
        look.changed.connect(self._refit)
        self._refit()

    def _refit(self) -> None:
        self._heads.setHorizontalSpacing(self._look.px(4))
        for column, wide in enumerate(COLUMNS, 1):
            self._heads.setColumnMinimumWidth(column, self._look.px(wide))

    def tell(self, state: State, corners: Mapping[CornerSide, Ref]) -> str:
        """Show the joints of both corners; the remark that stands beside their head."""
        told = self._told
        if told is None or told[0] is not state.assessment or told[1] != corners:
            told = self._told = (state.assessment, corners, self._tell(state, corners))
        return told[2]

    def _tell(self, state: State, corners: Mapping[CornerSide, Ref]) -> str:
        try:
            lines = joint_lines(state, corners)
        except NotComputedError as error:
            if state.assessment.behind and self.rows:
                for row in self.rows:
                    if row.line is not None:
                        row.tell(row.line, behind=True)
                return BEFORE
            self._show([])
            say(self.words, f"Don't know, because {error}.")
            self.words.show()
            return "don't know yet"
        self._show(lines)
        self.words.setVisible(not lines)
        say(self.words, "" if lines else "Enter the links of the corner: their joints follow.")
        unknown = sum(line.verdict == "unknown" for line in lines)
        return f"{unknown} of {len(lines)} don't know" if unknown else "tilt over travel and steer"

    def _show(self, lines: Sequence[JointLine]) -> None:
        while len(self.rows) < len(lines):
            self.rows.append(JointRow(self._session, self._selection, self._look))
            self._column.addWidget(self.rows[-1])
        before = ""
        for at, row in enumerate(self.rows):
            row.setVisible(at < len(lines))
            if at < len(lines):
                side = "" if lines[at].side == "one" else f", {lines[at].side}"
                head = f"{lines[at].link}{side}"
                row.head("" if head == before else head)
                row.tell(lines[at], behind=False)
                before = head
        self.heads.setVisible(bool(lines))

    @property
    def shown(self) -> list[JointLine]:
        """The joints that are shown."""
        return [row.line for row in self.rows if row.isVisibleTo(self) and row.line is not None]
