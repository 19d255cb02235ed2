"""Donor corners at one end: their list, and a form that carries one over into this car."""

from PySide6.QtGui import QHideEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.donors.asked_fields import End
from app.panels.donors.form import CarryForm
from app.panels.donors.row import DonorRow
from app.panels.donors.words import EMPTY, HEAD, LEAD, summary
from app.selection import Selection
from app.session import Session, State
from app.trial import Trial
from app.widgets.draft_form import NotGivenError
from app.widgets.field import Sentence, as_sentence
from app.widgets.field_rows import context_of
from app.widgets.folded import Folded
from app.widgets.following import Following
from app.widgets.rows import say
from app.widgets.word_button import word_button
from core.document.base import Ref
from core.document.donors import DonorCorner, usual_links
from core.document.errors import JigplateError
from core.document.project import Document
from core.document.running_gear import Corner
from core.edits.donor import CarryOver, carry_over
from core.edits.donor_warnings import warnings
from core.edits.finding_things import piece_of
from core.edits.values import change
from core.engine.address import Address
from core.engine.assess import assess
from core.engine.cells import When
from core.engine.finding import Finding
from core.scene.cells import the_scene
from core.study.order import Order

COMPARISON = "donors"
"""The list that shows donors beside one another."""


class DonorsPanel(Following):
    """One line until it is opened; what would come over stands in thin lines beside the car."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        parent: QWidget | None = None,
        *,
        driven: bool = True,
    ) -> None:
        """Offer the driven end, or the other one."""
        super().__init__(session, parent)
        self._selection, self._look, self._driven = selection, look, driven
        self._trial = Trial.of(selection)
        self._done: Document | None = None
        """The car just after a corner came over, as long as nothing else was asked for."""
        self._shown: tuple[Document, CarryOver] | None = None
        """What stands beside the car, and the car it is for."""
        self.fold = Folded(look)
        self.lead = label(EMPTY, "body", "ink2")
        self.rows: dict[str, DonorRow] = {}
        self.make = word_button("New donor corner…")
        self.compare = word_button("")
        self.refused = Sentence(look)
        self.form = CarryForm(context_of(session, selection, look))
        self._lay_out()
        self._connect()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.fold)
        self._list = QVBoxLayout()
        self._list.setSpacing(self._look.px(4))
        buttons = QHBoxLayout()
        buttons.addWidget(self.make)
        buttons.addWidget(self.compare)
        buttons.addStretch(1)
        body = self.fold.body
        body.addWidget(self.lead)
        body.addLayout(self._list)
        body.addWidget(self.refused)
        body.addLayout(buttons)
        body.addWidget(self.form)

    def _connect(self) -> None:
        self.fold.line.toggled.connect(self._again)
        self.make.clicked.connect(lambda: self._selection.make_wanted.emit("donor_corners"))
        self.compare.clicked.connect(lambda: self._selection.list_wanted.emit(COMPARISON))
        self.form.fields.changed.connect(self._asked_otherwise)
        self.form.wanted.connect(self.carry)

    def _again(self) -> None:
        self.refresh(self._session.state)

    # --- what is shown --------------------------------------------------------------------------

    @property
    def end(self) -> End:
        """The end of the car that it is about."""
        is_front = (Order(self._session.state.document).driven_end == "front") is self._driven
        return "front" if is_front else "rear"

    def refresh(self, state: State) -> None:
        """Show how things are now; what would come over waits until a drag has ended."""
        self.fold.say(HEAD, summary(state.document))
        if not self.fold.is_open:
            self._trial.drop_if(self)
            return
        self._tell_list(state.document)
        if self._session.history.group is None:
            self._tell_form(state)

    def _tell_list(self, document: Document) -> None:
        donors = {donor.id: donor for donor in document.donor_corners}
        for gone in [thing_id for thing_id in self.rows if thing_id not in donors]:
            row = self.rows.pop(gone)
            self._list.removeWidget(row)
            row.hide()
            row.deleteLater()
        for thing_id, donor in donors.items():
            if thing_id not in self.rows:
                self.rows[thing_id] = self._row(Ref(thing_id))
            self.rows[thing_id].tell(donor)
        say(self.lead, LEAD if donors else EMPTY)
        self.compare.setText("Compare them" if len(donors) > 1 else "Its points in a table")
        self.compare.setVisible(bool(donors))
        self.form.setVisible(bool(donors))

    def _row(self, ref: Ref) -> DonorRow:
        row = DonorRow(self._look, ref)
        row.chosen.connect(self._choose)
        row.links_wanted.connect(self._enter_links)
        self._list.addWidget(row)
        return row

    def _choose(self, ref: Ref) -> None:
        """Choose a donor's corner, and ask for it."""
        self.form.fields.choose_donor(ref)
        self._selection.choose(ref)

    def _enter_links(self, ref: Ref) -> None:
        """Give a donor the links that the names of its points tell, as one step of undo."""
        donor = piece_of(self._session.state.document, DonorCorner, ref)
        links = usual_links(donor.points)
        try:
            self._session.apply(
                f"Enter the usual links of {donor.name}",
                lambda document: change(document, Address(ref, "links"), links),
            )
        except JigplateError as error:
            self.refused.say(as_sentence(error))
        else:
            self.refused.clear()

    # --- what is asked --------------------------------------------------------------------------

    def _asked_otherwise(self) -> None:
        self._done = None
        self.refresh(self._session.state)

    def _tell_form(self, state: State) -> None:
        document = state.document
        self.form.fields.follow(document, self.end)
        asked, shown = None, None
        if document is self._done:
            self.form.note("It is in the car. Undo takes it back.")
        elif document.donor_corners:
            asked = self._asked()
        if asked is not None:
            shown = self._judged(document, asked)
        self._show_beside(state, shown)

    def _asked(self) -> CarryOver | None:
        try:
            return self.form.fields.asked()
        except NotGivenError as error:
            self.form.note(str(error))
            return None

    def _judged(self, document: Document, asked: CarryOver) -> CarryOver | None:
        """Say what to know of it, or why it is refused; nothing in that case."""
        try:
            found = warnings(document, asked)
        except JigplateError as error:
            self.form.refuse(str(error))
            return None
        self.form.tell(found)
        return asked

    def _show_beside(self, state: State, asked: CarryOver | None) -> None:
        """Draw what would come over in thin lines beside the car as it is."""
        if asked is None or not self.isVisible():
            self._trial.drop_if(self)
            return
        is_same = self._shown is not None and self._shown[0] is state.document
        if self._shown is None or not is_same or self._shown[1] != asked:
            self._shown = (state.document, asked)
        if not self._trial.is_of(self, self._shown):
            self._draw_beside(state, asked)

    def _draw_beside(self, state: State, asked: CarryOver) -> None:
        try:
            document, _ = carry_over(state.document, asked)
            table = assess(
                document, self._session.meshes, state.assessment, (), When.LIVE, (the_scene,)
            )
            self._trial.show(table.value(the_scene), self, self._shown)
        except JigplateError as error:
            self.form.refuse(str(error))
            self._trial.drop_if(self)

    def carry(self) -> None:
        """Carry it over as one step of undo and go there, or say why not."""
        asked = self._asked()
        if asked is None:
            return
        made: list[Corner] = []

        def edit(document: Document) -> Document:
            after, corner = carry_over(document, asked)
            made.append(corner)
            return after

        donor = piece_of(self._session.state.document, DonorCorner, asked.donor)
        try:
            self._session.apply(f"Carry over {donor.name}", edit)
        except JigplateError as error:
            self.form.refuse(str(error))
            return
        self._done = self._session.state.document
        self.refresh(self._session.state)
        self._go_to(made[-1])

    def _go_to(self, corner: Corner) -> None:
        """Choose a corner that has come over, and take the views there."""
        ref = Ref(corner.id, "left" if corner.pair else "one")
        self._selection.choose(ref)
        words = f"{corner.name} has come over."
        at = corner.upright.hub_face
        self._selection.looked_at.emit(Finding("carried_over", "unknown", (ref,), words, place=at))

    def hideEvent(self, event: QHideEvent) -> None:
        """Take what is drawn beside the car away with the panel."""
        super().hideEvent(event)
        self._trial.drop_if(self)
