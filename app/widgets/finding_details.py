"""What a finding opens to: ways to mend it, accepting it with a reason, and what it rests on."""

from collections.abc import Callable
from datetime import datetime

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.session import Edit, Session
from app.widgets.mending import accepting, mending, reopening
from app.widgets.rows import pressed, say
from app.widgets.wrapping_button import WrappingButton
from core.document.errors import JigplateError
from core.engine.finding import Finding, Remedy
from core.study.why import why_finding


class FindingDetails(QWidget):
    """Everything that can be done about one finding; refusals are told in words, in place."""

    def __init__(
        self, session: Session, look: Look, finding: Finding, parent: QWidget | None = None
    ) -> None:
        """Show what can be done about a finding."""
        super().__init__(parent)
        self._session, self._look, self._finding = session, look, finding
        self._body = QVBoxLayout(self)
        self._body.setContentsMargins(0, look.px(8), 0, look.px(4))
        self._body.setSpacing(look.px(8))
        self.remedies: list[WrappingButton] = []
        self._add_remedies()
        if finding.verdict != "fine":
            self._add_acceptance()
        self._add_why()
        self._refusal = label("", "small", "no")
        self._refusal.hide()
        self._body.addWidget(self._refusal)

    @property
    def refusal(self) -> str:
        """Why the last thing asked for was not done; empty if it was."""
        return self._refusal.text()

    def is_about(self, finding: Finding) -> bool:
        """Whether all it offers is still so: the same remedies, accepted or not as before."""
        mine = (self._finding.remedies, self._finding.accepted, self._finding.verdict)
        if mine != (finding.remedies, finding.accepted, finding.verdict):
            return False
        self._finding = finding  # its figure may differ; a reason being typed is kept
        self._why.hide()
        return True

    def _add_remedies(self) -> None:
        if not self._finding.remedies:
            return
        self._body.addWidget(label("Ways to mend it", "head"))
        for remedy in self._finding.remedies:
            words = remedy.words[:1].upper() + remedy.words[1:]
            made = WrappingButton(self._look, words)
            made.clicked.connect(self._mender(remedy))
            self.remedies.append(made)
            self._body.addWidget(made)

    def _mender(self, remedy: Remedy) -> Callable[[], None]:
        words = remedy.words[:1].upper() + remedy.words[1:]
        return lambda: self._try(words, mending(remedy))

    def _add_acceptance(self) -> None:
        if self._finding.accepted:
            self._body.addWidget(label(f"Accepted: {self._finding.accepted}", "small", "ink2"))
            self.reopen = pressed("Open it again")
            self.reopen.clicked.connect(self._reopen)
            self._body.addWidget(self.reopen, 0, Qt.AlignmentFlag.AlignLeft)
            return
        self._body.addWidget(label("Or accept it, with your reason", "head"))
        self.reason = QPlainTextEdit()
        self.reason.setAccessibleName("your reason")
        self.reason.setProperty("role", "body")
        self.reason.setPlaceholderText("It stays in the list and on paper, with this reason.")
        self.reason.setTabChangesFocus(True)
        self.reason.setFixedHeight(self._look.px(52))
        self.reason.setCursor(Qt.CursorShape.IBeamCursor)
        self._body.addWidget(self.reason)
        row = QHBoxLayout()
        self.accept = pressed("Accept, keep the reason")
        self.accept.clicked.connect(self._accept)
        row.addWidget(self.accept)
        row.addStretch(1)
        self._body.addLayout(row)

    def _accept(self) -> None:
        when = datetime.now().astimezone().date().isoformat()
        self._try("Accept with a reason", accepting(self._finding, self.reason.toPlainText(), when))

    def _reopen(self) -> None:
        self._try("Open it again", reopening(self._finding))

    def _add_why(self) -> None:
        self.ask_why = pressed("What it rests on", "link")
        self.ask_why.clicked.connect(self._tell_why)
        self._why = label("", "small", "ink2")
        self._why.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self._why.hide()
        self._body.addWidget(self.ask_why, 0, Qt.AlignmentFlag.AlignLeft)
        self._body.addWidget(self._why)

    @property
    def why(self) -> str:
        """What it rests on, once asked for."""
        return self._why.text()

    def _tell_why(self) -> None:
        if self._why.isVisibleTo(self):
            self._why.hide()
            return
        try:
            lines = why_finding(self._session.state.assessment, self._finding)[1:]
        except JigplateError as error:
            lines = (f"Not known: {error}.",)
        say(self._why, "\n".join(indented(line) for line in lines))
        self._why.show()

    def _try(self, words: str, edit: Edit) -> None:
        """Do an edit; a refusal is told where it was asked for, and nothing has changed."""
        say(self._refusal, "")
        self._refusal.hide()
        try:
            self._session.apply(words, edit)
        except JigplateError as error:
            say(self._refusal, sentence(str(error)))
            self._refusal.show()


def indented(line: str) -> str:
    """A line whose leading blanks stay as they are in a label that wraps."""
    text = line.lstrip(" ")
    return "\u00a0" * (len(line) - len(text)) + text


def sentence(words: str) -> str:
    """Words as a sentence of their own."""
    head = words[:1].upper() + words[1:]
    return head if head.endswith((".", "!", "?")) else f"{head}."
