"""Details: everything about what is chosen, to be read and changed in place."""

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QScrollArea, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.details.apart import Apart
from app.panels.details.head import Head
from app.panels.details.point_place import PointPlace
from app.panels.details.said import note_of
from app.places import first_in
from app.selection import Selection
from app.session import Edit, Session, State
from app.widgets.branch_editor import OpenPart, PartEditor
from app.widgets.field import Field, Sentence, as_sentence, fields_in
from app.widgets.field_rows import context_of
from app.widgets.rows import Section
from app.widgets.several import Several
from app.widgets.taking_out import TakingOut, sentences, take_out_words, without_all
from app.widgets.text_field import TextField
from app.widgets.word_button import word_button
from core.document.base import Entity, Ref
from core.document.errors import JigplateError
from core.document.paths import covers
from core.document.steel import Point
from core.edits.names import name_of_copy
from core.edits.things import duplicate, mirror
from core.engine.address import Address

NOTHING = "Nothing is chosen. Click a tube, a joint or any part in the view, or find it by name."


class Details(QWidget):
    """The panel about the thing chosen."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Follow what is chosen."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.context = context_of(session, selection, look)
        self._shown: tuple[object, ...] = ()
        self.area = QScrollArea(self)
        self.area.setWidgetResizable(True)
        self.area.viewport().setAutoFillBackground(False)
        self.area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.content: QWidget | None = None
        self.editor: PartEditor | None = None
        self.head: Head | None = None
        self.several: Several | None = None
        self.place: PointPlace | None = None
        self.apart: Apart | None = None
        self.note: TextField | None = None
        self.card: TakingOut | None = None
        self.sentence = Sentence(look, self)
        self.copy, self.pair, self.out = self._buttons()
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.area, 1)
        box.addWidget(self._foot())
        session.changed.connect(self._session_changed)
        selection.changed.connect(self.refresh)
        look.changed.connect(self._rebuild)
        self.refresh()

    def _buttons(self) -> tuple[QPushButton, QPushButton, QPushButton]:
        made = (
            word_button("Make a copy", "plain"),
            word_button("Make it a pair", "plain"),
            word_button("Take it out", "plain"),
        )
        for one, do in zip(made, (self.make_copy, self.make_pair, self.take_out), strict=True):
            one.clicked.connect(do)
        return made

    def _foot(self) -> QWidget:
        self.foot = QFrame(self)
        self.foot.setProperty("ground", "panel")
        self._foot_box = QVBoxLayout(self.foot)
        side = self._look.px(22)
        self._foot_box.setContentsMargins(side, self._look.px(8), side, self._look.px(10))
        self._foot_box.addWidget(self.sentence)
        row = QHBoxLayout()
        row.setSpacing(self._look.px(6))
        for one in (self.copy, self.pair, self.out):
            row.addWidget(one)
        row.addStretch(1)
        self._foot_box.addLayout(row)
        return self.foot

    # What is shown.

    @property
    def refs(self) -> tuple[Ref, ...]:
        """The pieces chosen that are in the car; of a pair without a side, the left one."""
        by_id = self.context.drawn.lookup.by_id
        there = (ref for ref in self._selection.refs if ref.id in by_id)
        return tuple(dict.fromkeys(_sided(by_id[ref.id], ref) for ref in there))

    def refresh(self) -> None:
        """Show what is chosen; anew if it is something else, in place if it is the same."""
        by_id = self.context.drawn.lookup.by_id
        wanted = tuple((ref, by_id[ref.id].pair) for ref in self.refs)
        if wanted != self._shown or self.content is None:
            self._shown = wanted
            self._rebuild()

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is not after.document:
            self.refresh()

    def _rebuild(self) -> None:
        if self.content is not None:
            self.context.save_texts(self.content)
        self.close_card()
        self.sentence.clear()
        self.editor = self.head = self.several = self.place = self.apart = self.note = None
        content = QWidget()
        content.setObjectName("details")
        box = QVBoxLayout(content)
        box.setContentsMargins(0, self._look.px(10), 0, self._look.px(16))
        box.setSpacing(0)
        refs = self.refs
        if not refs:
            self._say_nothing(box)
        elif len(refs) == 1:
            self._show_one(box, refs[0])
        else:
            self.several = Several(self.context, refs)
            box.addWidget(_inset(self._look, self.several))
        box.addStretch(1)
        old, self.content = self.content, content
        self.area.takeWidget()
        if old is not None:
            old.hide()
            old.deleteLater()
        self.area.setWidget(content)
        content.setAutoFillBackground(False)
        content.show()
        self._show_buttons(refs)

    def _say_nothing(self, box: QVBoxLayout) -> None:
        box.addWidget(_inset(self._look, label(NOTHING, "lead", "ink2")))

    def _show_one(self, box: QVBoxLayout, ref: Ref) -> None:
        thing = self.context.drawn.lookup.by_id[ref.id]
        self.head = Head(self.context, ref)
        box.addWidget(_inset(self._look, self.head))
        known = Section(self._look, "What is known", _counted(thing))
        leave_out: tuple[str, ...] = ()
        if isinstance(thing, Point):
            leave_out = ("at", "along")
            self.place = PointPlace(self.context, ref)
            known.body.addWidget(self.place)
        self.editor = PartEditor(self.context, Address(ref, ""), type(thing), leave_out)
        known.body.addWidget(self.editor)
        box.addWidget(known)
        if thing.pair:
            sides = Section(self._look, "Left and right")
            self.apart = Apart(self.context, ref)
            sides.body.addWidget(self.apart)
            box.addWidget(sides)
        self._show_note(box, ref)

    def _show_note(self, box: QVBoxLayout, ref: Ref) -> None:
        noted = Section(self._look, "Note", "why it is so")
        said = note_of(self._session, self.context.drawn, ref.id)
        self.note = TextField(
            self._session,
            self._selection,
            self._look,
            said,
            drawn=self.context.drawn,
            many_lines=True,
        )
        noted.body.addWidget(self.note)
        box.addWidget(noted)

    def _show_buttons(self, refs: tuple[Ref, ...]) -> None:
        one = len(refs) == 1
        thing = self.context.drawn.lookup.by_id[refs[0].id] if one else None
        self.copy.setVisible(one)
        self.pair.setVisible(thing is not None and thing.may_be_pair and not thing.pair)
        self.out.setText("Take it out" if one else "Take all of it out")
        self.out.setVisible(bool(refs))
        self.foot.setVisible(bool(refs))

    # What is done.

    def rename(self) -> None:
        """Take the keyboard to the name of the one thing chosen, ready to be typed over."""
        if self.head is not None:
            self.area.ensureWidgetVisible(self.head)
            self.head.name.line.setFocus(Qt.FocusReason.OtherFocusReason)
            self.head.name.line.selectAll()

    def type_at(self, path: str) -> None:
        """Take the keyboard to the field at a path of the one thing chosen, or to the first."""
        if self.content is None:
            return
        fields = [field for field in fields_in(self.content) if field.address is not None]
        for wanted in (path, "along"):  # a point that follows a tube is told along it
            for field in fields:
                target = first_in(field) if _is_of(field, wanted) else None
                if target is not None:
                    self.area.ensureWidgetVisible(field)
                    target.setFocus(Qt.FocusReason.OtherFocusReason)
                    return
        self._to_part(path)

    def _to_part(self, path: str) -> None:
        """Take the keyboard to where a part is entered that is not there yet."""
        assert self.content is not None
        for part in self.content.findChildren(OpenPart):
            if covers(part.address.path, path) and part.enter.isVisible():
                self.area.ensureWidgetVisible(part)
                part.enter.setFocus(Qt.FocusReason.OtherFocusReason)
                return

    def make_copy(self) -> None:
        """Put a second one in, beside the first, and choose it."""
        ref = self.refs[0]
        thing = self.context.drawn.lookup.by_id[ref.id]
        things = self.context.drawn.lookup.by_id.values()
        name = name_of_copy((o.name for o in things if type(o) is type(thing)), thing.name)
        if self._try(f"Copy {thing.name}", lambda d: duplicate(d, ref.id, name)[0]):
            kind = type(thing)
            made = [t for t in self.context.drawn.lookup.by_id.values() if type(t) is kind]
            self._selection.choose(_sided(made[-1], Ref(made[-1].id, ref.side)))

    def make_pair(self) -> None:
        """Give it its mirror image."""
        ref = self.refs[0]
        name = self.context.drawn.lookup.label(ref)
        if self._try(f"Make {name} a left and right pair", lambda d: mirror(d, ref.id)):
            self._selection.choose(Ref(ref.id, "left"))

    def take_out(self) -> None:
        """Take out what is chosen; what hangs on it is named first."""
        ids = tuple(dict.fromkeys(ref.id for ref in self.refs))
        if not sentences(self._session, ids):
            words = take_out_words(self._session, ids)
            self._try(words, lambda d: without_all(d, ids))
            return
        self.close_card()
        self.card = TakingOut(self.context, ids, self.foot)
        self.card.closed.connect(self._card_closed)
        self._foot_box.insertWidget(0, self.card)
        self.card.show()  # at once, so that the keyboard can go there
        self.card.setFocus(Qt.FocusReason.OtherFocusReason)

    def _card_closed(self) -> None:
        QTimer.singleShot(0, self, self.close_card)

    def close_card(self) -> None:
        """Take the card about what hangs on a thing away."""
        if self.card is not None:
            self.card.hide()
            self.card.deleteLater()
            self.card = None

    def _try(self, words: str, edit: Edit) -> bool:
        try:
            self._session.apply(words, edit)
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
            return False
        self.sentence.clear()
        return True


def _sided(thing: Entity, ref: Ref) -> Ref:
    if not thing.pair:
        return Ref(ref.id)
    return Ref(ref.id, "left") if ref.side == "one" else ref


def _is_of(field: Field, path: str) -> bool:
    """Whether a field shows the value at a path, or one inside it."""
    return field.address is not None and covers(path, field.address.path)


def _counted(thing: Entity) -> str:
    return f"{len(thing.facts)} sources given" if thing.facts else "no source given"


def _inset(look: Look, widget: QWidget) -> QWidget:
    made = QWidget()
    box = QVBoxLayout(made)
    box.setContentsMargins(look.px(22), 0, look.px(22), look.px(8))
    box.addWidget(widget)
    return made
