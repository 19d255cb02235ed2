"""The tube tools: what can be put in, and what can be done with the tubes chosen."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from app.look.look import Look
from app.panels.tubes.actions import Tool
from app.panels.tubes.carried import NewBracket, NewMount
from app.panels.tubes.drawing import DrawTube, NewPoint
from app.panels.tubes.form import ToolForm
from app.panels.tubes.one_tube import OneTube
from app.selection import Selection
from app.session import Session, State
from app.widgets.field_rows import context_of
from app.widgets.rows import Section
from app.widgets.several import Several
from app.widgets.tabs import Tabs
from app.widgets.taking_out import TakingOut, sentences, take_out_words, without_all
from app.widgets.word_button import word_button
from core.document.base import Ref
from core.document.steel import Tube

_FORMS: dict[Tool, type[DrawTube | NewPoint | NewBracket | NewMount]] = {
    "tube": DrawTube,
    "point": NewPoint,
    "bracket": NewBracket,
    "mount": NewMount,
}
_WORDS: dict[Tool, str] = {
    "tube": "tube",
    "point": "point",
    "bracket": "bracket",
    "mount": "mount",
}


class TubeTools(QWidget):
    """Forms for new tubes, points, brackets and mounts, and tools for the tubes chosen."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Follow what is chosen."""
        super().__init__(parent)
        self._session, self._selection, self._look = session, selection, look
        self.context = context_of(session, selection, look)
        self.form: ToolForm | None = None
        self.one: OneTube | None = None
        self.several: Several | None = None
        self.card: TakingOut | None = None
        self._shown: tuple[tuple[Ref, bool], ...] | None = None
        self.new = Section(look, "Put in", is_first=True)
        self.tabs: Tabs[Tool] = Tabs(look, _WORDS, "what to put in", self)
        self.tabs.chosen.connect(self.begin)
        self.new.body.addWidget(self.tabs)
        self.chosen = Section(look, "The tubes chosen")
        self.out = word_button("Take it out", "plain")
        self.out.clicked.connect(self.take_out)
        self.chosen.body.addWidget(self.out, 0, Qt.AlignmentFlag.AlignLeft)
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(0)
        box.addWidget(self.new)
        box.addWidget(self.chosen)
        box.addStretch(1)
        session.changed.connect(self._session_changed)
        selection.changed.connect(self.refresh)
        self.refresh()

    @property
    def tubes(self) -> tuple[Ref, ...]:
        """The tubes among what is chosen, each with its side."""
        by_id = self.context.drawn.lookup.by_id
        found = (r for r in self._selection.refs if isinstance(by_id.get(r.id), Tube))
        return tuple(_sided(r, pair=by_id[r.id].pair) for r in found)

    def is_in_use(self) -> bool:
        """Whether a form waits for something to be chosen, or tubes are chosen to work on."""
        return self.form is not None or bool(self.tubes)

    def refresh(self) -> None:
        """Show the tools for what is chosen now."""
        by_id = self.context.drawn.lookup.by_id
        tubes = self.tubes
        wanted = tuple((ref, by_id[ref.id].pair) for ref in tubes)
        if wanted == self._shown:
            return
        self._shown = wanted
        self._close_chosen()
        self.chosen.setVisible(bool(tubes))
        if len(tubes) == 1:
            self.one = OneTube(self.context, tubes[0], self.chosen)
            self.chosen.body.insertWidget(1, self.one)
        elif tubes:
            self.several = Several(self.context, tubes, self.chosen)
            self.chosen.body.insertWidget(1, self.several)
        self.out.setText("Take it out" if len(tubes) == 1 else "Take all of them out")

    def _close_chosen(self) -> None:
        for widget in (self.one, self.several, self.card):
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.one = self.several = self.card = None

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is not after.document:
            self.refresh()

    def begin(self, tool: Tool) -> None:
        """Bring a tool to the front: a form, or the place where it is for the tubes chosen."""
        if tool not in _FORMS:
            self._point_at(tool)
            return
        self.close_form()
        self.tabs.show_chosen(tool)
        self.form = _FORMS[tool](self.context, self.new)
        self.form.done.connect(self._done)
        self.form.dropped.connect(self.close_form)
        self.new.body.addWidget(self.form)
        self.form.show()  # at once: what is not to be seen yet is passed over by Tab
        self.form.setFocus(Qt.FocusReason.OtherFocusReason)

    def _point_at(self, tool: Tool) -> None:
        if self.several is not None and tool in ("section", "state"):
            field = self.several.section_field if tool == "section" else self.several.states
            field.setFocus(Qt.FocusReason.OtherFocusReason)
        elif self.one is not None:
            places: dict[Tool, QWidget] = {
                "bend": self.one.legs,
                "split": self.one.joints,
                "join": self.one.others,
                "state": self.one.states,
                "section": self.one.section_field,
            }
            places.get(tool, self.one).setFocus(Qt.FocusReason.OtherFocusReason)

    def _done(self, ref: Ref) -> None:
        if not isinstance(self.form, DrawTube):  # a tube is followed by the next from its end
            self._selection.choose(ref)

    def close_form(self) -> None:
        """Take the form away."""
        if self.form is not None:
            at = QApplication.focusWidget()
            had_keyboard = at is not None and self.form.isAncestorOf(at)
            self.form.hide()
            self.form.deleteLater()
            self.form = None
            if had_keyboard:
                self.tabs.tabs["tube"].setFocus(Qt.FocusReason.OtherFocusReason)
        self.tabs.show_chosen(None)

    def take_out(self) -> None:
        """Take the tubes out; what hangs on them is named first."""
        ids = tuple(dict.fromkeys(ref.id for ref in self.tubes))
        if self.card is not None:
            return
        if not sentences(self._session, ids):
            words = take_out_words(self._session, ids)
            self._session.apply(words, lambda d: without_all(d, ids))
            return
        self.card = TakingOut(self.context, ids, self.chosen)
        self.card.closed.connect(self._close_card)
        self.chosen.body.addWidget(self.card)
        self.card.show()
        self.card.setFocus(Qt.FocusReason.OtherFocusReason)

    def _close_card(self) -> None:
        if self.card is not None:
            self.card.hide()
            self.card.deleteLater()
            self.card = None


def _sided(ref: Ref, *, pair: bool) -> Ref:
    if not pair:
        return Ref(ref.id)
    return Ref(ref.id, "left") if ref.side == "one" else ref
