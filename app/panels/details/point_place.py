"""Where a point is: by its coordinates, or along a tube that it follows."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.style import label
from app.session import Edit, State
from app.widgets.binding import Draft
from app.widgets.branch_editor import PartEditor
from app.widgets.field import Sentence, as_sentence
from app.widgets.field_rows import FieldContext
from app.widgets.word_button import word_button
from core.assess.places import place
from core.document.base import Ref
from core.document.errors import JigplateError
from core.document.project import Document
from core.document.sides import on_side
from core.document.steel import Along, Point
from core.edits.points import set_loose, tie_to_tube
from core.edits.refusals import EditRefusedError
from core.edits.tube_places import place_on_tube
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from core.workshop.field_shapes import Shape


class PointPlace(QWidget):
    """The place of a point, and the way from one kind of place to the other."""

    def __init__(self, context: FieldContext, ref: Ref, parent: QWidget | None = None) -> None:
        """Show where a point is."""
        super().__init__(parent)
        self._context, self._ref = context, ref
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(context.look.px(4))
        self._inner: QWidget | None = None
        self._follows: bool | None = None
        self.loosen = word_button("Set it loose where it is")
        self.loosen.clicked.connect(self.set_loose)
        self.tie = word_button("Let it follow a tube")
        self.tie.clicked.connect(self._ask_tube)
        self.sentence = Sentence(context.look, self)
        self.tube: QWidget | None = None
        for widget in (self.sentence, self.loosen, self.tie):
            self._box.addWidget(widget)
        context.session.changed.connect(self._session_changed)
        self.refresh()

    def _piece(self) -> Point | None:
        thing = self._context.drawn.lookup.by_id.get(self._ref.id)
        piece = None if thing is None else on_side(thing, self._ref.side)
        return piece if isinstance(piece, Point) else None

    def refresh(self) -> None:
        """Show its place anew if it became one of the other kind."""
        point = self._piece()
        if point is None or (point.along is not None) == self._follows:
            return
        self._follows = point.along is not None
        if self._inner is not None:
            self._context.save_texts(self._inner)
            self._inner.hide()
            self._inner.deleteLater()
        self._inner = self._along() if self._follows else self._at()
        self._box.insertWidget(0, self._inner)
        self.loosen.setVisible(self._follows)
        self.tie.setVisible(not self._follows and point.carrier == "chassis")
        self._close_tube()

    def _at(self) -> QWidget:
        at = Address(self._ref, "at")
        field = QWidget(self)
        box = QVBoxLayout(field)
        box.setContentsMargins(0, 0, 0, 0)
        box.addWidget(label("place", "head"))
        box.addWidget(self._context.field_for(at, Shape("place"), field))
        return field

    def _along(self) -> QWidget:
        return PartEditor(self._context, Address(self._ref, "along"), Along, parent=self)

    def set_loose(self) -> None:
        """Give it a place of its own, where it is now."""
        ref = self._ref
        self._try(f"Set {self._name} loose", lambda d: set_loose(d, ref))

    def _ask_tube(self) -> None:
        self._close_tube()
        draft = Draft(Shape("reference", optional=True, kinds=("tube",)), "tube to follow")
        field = self._context.field_for(draft, draft.shape, self)
        field.kept.connect(lambda: self._follow(draft.value()))
        self.tube = field
        self._box.addWidget(field)
        field.setFocus()

    def _close_tube(self) -> None:
        if self.tube is not None:
            self.tube.hide()
            self.tube.deleteLater()
            self.tube = None

    def _follow(self, tube: object) -> None:
        if isinstance(tube, Ref):
            ref = self._ref
            name = self._context.drawn.lookup.label(tube)
            self._try(f"Let {self._name} follow {name}", lambda d: followed(d, ref, tube))

    @property
    def _name(self) -> str:
        return self._context.drawn.lookup.label(self._ref)

    def _try(self, words: str, edit: Edit) -> None:
        try:
            self._context.session.apply(words, edit)
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
        else:
            self.sentence.clear()

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is not after.document:
            self.refresh()


def followed(document: Document, ref: Ref, tube: Ref) -> Document:
    """The document with a point following a tube from where on it is nearest to the point now.

    Raises:
        EditRefusedError: where one of them is is not known, or the tube rests on the point.
    """
    try:
        near = compute(document, {}, place, ref)
    except NotComputedError as error:
        raise EditRefusedError(str(error)) from error
    return tie_to_tube(document, ref, place_on_tube(document, tube, near))
