"""A head with what stands below it, a sentence, and a form: the base of parts and lists."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from app.look.style import label
from app.session import Edit, State
from app.widgets.binding import Bound
from app.widgets.draft_form import DraftForm
from app.widgets.field import Sentence, as_sentence
from app.widgets.field_rows import FieldContext
from core.document.errors import JigplateError
from core.edits.branches import can_be_freed
from core.edits.refusals import HeldError
from core.engine.address import Address
from core.workshop.field_shapes import Shape


class Branch(QWidget):
    """A head, what stands below it, and a sentence; the base of parts and lists."""

    def __init__(
        self, context: FieldContext, address: Address, shape: Shape, parent: QWidget | None = None
    ) -> None:
        """Show the head of a branch with nothing below it yet."""
        super().__init__(parent)
        self.context, self.address, self.shape = context, address, shape
        look = context.look
        self.bound = Bound(context.session, address, context.drawn)
        self.head = label(self.bound.words, "head")
        self.head.setWordWrap(False)
        self.remark = label("", "small", "ink2")
        self.remark.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        top = QHBoxLayout()
        top.setContentsMargins(0, look.px(6), 0, 0)
        top.addWidget(self.head)
        top.addWidget(self.remark, 1)
        self.box = QVBoxLayout(self)
        self.box.setContentsMargins(0, 0, 0, 0)
        self.box.setSpacing(look.px(4))
        self.box.addLayout(top)
        self.inner: QWidget | None = None
        self.form: DraftForm | None = None
        self._keep: Callable[[object], bool] | None = None
        self.sentence = Sentence(look, self)
        self.foot = QHBoxLayout()
        self.foot.setContentsMargins(0, 0, 0, 0)
        context.session.changed.connect(self._session_changed)

    def finish(self, *links: QPushButton) -> None:
        """Put the links at the foot and build it; the end of every constructor."""
        for link in links:
            self.foot.addWidget(link)
        self.foot.addStretch(1)
        self.box.addWidget(self.sentence)
        self.box.addLayout(self.foot)
        self.build()

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is not after.document and self.bound.is_there:
            self.refresh()

    def refresh(self) -> None:
        """Show the branch as it is now."""

    def build(self) -> None:
        """Make what stands below the head anew."""

    def replace_inner(self, inner: QWidget | None) -> None:
        """Put another widget below the head."""
        if self.inner is not None:
            self.inner.hide()
            self.box.removeWidget(self.inner)
            self.inner.deleteLater()
        self.inner = inner
        if inner is not None:
            self.box.insertWidget(1, inner)

    def try_(self, words: str, edit: Callable[[bool], Edit]) -> bool:
        """Do an edit, or say why it is refused and offer to set free what holds it."""
        try:
            self.context.session.apply(words, edit(False))  # noqa: FBT003 - made right here
        except HeldError as error:
            self._say_held(words, edit, error)
            return False
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
            return False
        self.sentence.clear()
        return True

    def _say_held(self, words: str, edit: Callable[[bool], Edit], error: HeldError) -> None:
        document = self.context.session.state.document
        if not can_be_freed(document, self.address):
            self.sentence.say(as_sentence(error))
            return

        def freed() -> None:
            self.try_(words, lambda _: edit(True))  # noqa: FBT003 - made right here

        self.sentence.say(as_sentence(error), "Set free and change", freed)

    def open_form(self, shape: Shape, words: str, keep: Callable[[object], bool]) -> None:
        """Ask for a value of a shape below the head, and do with it what `keep` does."""
        self.close_form()
        self.form = DraftForm(self.context, shape, words, self.bound.unit, parent=self)
        self._keep = keep
        self.form.given.connect(self._given)
        self.form.dropped.connect(self.close_form)
        self.box.addWidget(self.form)
        self.form.setFocus(Qt.FocusReason.OtherFocusReason)

    def _given(self, value: object) -> None:
        if self._keep is not None and self._keep(value):
            self.close_form()

    def close_form(self) -> None:
        """Take the form away."""
        if self.form is not None:
            self.form.hide()
            self.form.deleteLater()
            self.form = None
