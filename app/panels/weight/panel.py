"""What the car weighs and where: by load, by part, off scales, on stands, in a corner."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.weight import words
from app.panels.weight.load_choice import LoadChoice
from app.panels.weight.parts import HeavyList, MissingList
from app.panels.weight.stands import RAISING_NOTE, StandsList, raising_words, summary
from app.selection import Selection
from app.session import Session, State
from app.widgets.asking import ask
from app.widgets.figure_table import FigureTable
from app.widgets.folded import Folded
from app.widgets.following import Following
from app.widgets.rows import Section, say
from app.widgets.word_button import word_button
from core.quantities import number
from core.workshop.weight_page import Load, WeightPage, weight_page

EMPTY = (
    "Enter parts with what they weigh and where. The weight of the car, its centre of gravity and "
    "what each wheel carries follow; tubes and sheets are weighed by their shape."
)
NO_SCALES = (
    "Not weighed yet. Put the car on scales at the load it is drawn at, and once more with the "
    "tail raised: the figures replace the sum, and the difference is shown."
)
TILT_CAUTION = (
    "With the tail raised a car can roll or tip: chock the front wheels, block the suspension, and "
    "keep out from under it."
)
NO_STANDS = "Enter a lift: the places of its stands, and what is taken out while it stands there."


class WeightPanel(Following):
    """Belongs to every step; it stands in the bench's and is opened from anywhere."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the weight of the car."""
        super().__init__(session, parent)
        self._selection, self._look = selection, look
        self.page: WeightPage | None = None
        self._build()
        self._lay_out()
        self.choice.changed.connect(self._to_load)
        selection.changed.connect(self._mark_chosen)

    def _build(self) -> None:
        look, selection = self._look, self._selection
        self.whole = Section(look, "Weight")
        self.empty, self.unknown = label(EMPTY, "body", "ink2"), label("", "body")
        self.loads, self.wheels = FigureTable(look), FigureTable(look)
        self.where, self.how = label("", "body"), label("", "small", "ink2")
        self.choice = LoadChoice(look)
        self.new_part = word_button("New part…")
        self.missing_part = Section(look, "Not weighed yet")
        self.missing = MissingList(look, selection)
        self.heavy_part = Section(look, "What weighs how much")
        self.heavy = HeavyList(look, selection)
        self.scales_part = Section(look, "On scales")
        self.scales = FigureTable(look)
        self.mirrored, self.tilted = label("", "small", "ink2"), label("", "body")
        self.no_scales = label(NO_SCALES, "body", "ink2")
        self.new_weighing = word_button("New weighing…")
        self.tilt_caution = label(TILT_CAUTION, "small", "ink2")
        self.corner_fold, self.stands_fold = Folded(look), Folded(look)
        self.corner, self.granted = label("", "body"), label("", "small", "ink2")
        self.moved, self.shift = FigureTable(look), label("", "body")
        self.stands = StandsList(look)
        self.no_stands, self.new_lift = label(NO_STANDS, "body", "ink2"), word_button("New lift…")
        self.tail, self.nose = label("", "body"), label("", "body")
        self.raising_note = label(RAISING_NOTE, "small", "ink2")
        for made, field in (
            (self.new_part, "parts"),
            (self.new_weighing, "weighings"),
            (self.new_lift, "lifts"),
        ):
            made.clicked.connect(lambda _=False, f=field: selection.make_wanted.emit(f))

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        _fill(
            self.whole.body,
            *(self.empty, self.unknown, self.loads, self.choice),
            *(self.where, self.wheels, self.how, self.new_part),
        )
        _fill(self.missing_part.body, self.missing)
        _fill(self.heavy_part.body, self.heavy)
        _fill(
            self.scales_part.body,
            *(self.scales, self.mirrored, self.tilted, self.no_scales),
            *(self.new_weighing, self.tilt_caution),
        )
        _fill(self.corner_fold.body, self.corner, self.moved, self.shift, self.granted)
        _fill(
            self.stands_fold.body,
            *(self.stands, self.no_stands, self.new_lift),
            *(self.tail, self.nose, self.raising_note),
        )
        parts = (self.whole, self.missing_part, self.heavy_part, self.scales_part)
        for part in (*parts, self.corner_fold, self.stands_fold):
            column.addWidget(part)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        page = self.page = ask(state, weight_page)
        has_any = bool(page.heavy or page.missing)
        self.empty.setVisible(not page.weight.has_parts)
        for part in (self.heavy_part, self.scales_part):
            part.setVisible(has_any)
        for fold in (self.corner_fold, self.stands_fold):
            fold.setVisible(has_any)
        self._tell_loads(page)
        self.missing_part.setVisible(bool(page.missing))
        self.missing_part.say("Not weighed yet", "click to enter it")
        self.missing.tell(page.missing)
        self.heavy.tell(state, page)
        self.heavy_part.setVisible(bool(page.heavy))
        self._tell_scales(page)
        self._tell_corner(page)
        self._tell_stands(page)

    def _tell_loads(self, page: WeightPage) -> None:
        is_known = any(load.found is not None for load in page.loads)
        self.loads.setVisible(is_known)
        self.loads.tell(words.loads_table(page.loads))
        self.choice.offer(page.loads if is_known else page.loads[:1])
        self._tell_load(page, next(each for each in page.loads if each.case == self.choice.case))

    def _tell_load(self, page: WeightPage, load: Load) -> None:
        found = load.found
        least = words.at_least_words(page.weight)
        why = f"Don't know the whole, because {load.why}." if page.heavy else ""
        said = "" if found is not None else " ".join(part for part in (least, why) if part)
        say(self.unknown, said)
        self.unknown.setVisible(bool(said))
        for widget in (self.where, self.wheels, self.how):
            widget.setVisible(found is not None)
        remark = ""
        if found is not None:
            say(self.where, words.where_words(found))
            self.wheels.tell(words.wheels_table(found))
            say(self.how, words.how_words(found))
            remark = f"{number(found.mass_kg, 1)} kg {load.name}"
        self.whole.say("Weight", remark)

    def _to_load(self) -> None:
        if self.page is not None:
            self._tell_loads(self.page)

    def _tell_scales(self, page: WeightPage) -> None:
        on_them = any(each.weighed for each in page.scales)
        self.scales.setVisible(on_them)
        self.scales.tell(words.scales_table(page.scales))
        self.no_scales.setVisible(not on_them)
        self.scales_part.say("On scales", "they replace the sum" if on_them else "")
        for told, said in (
            (self.mirrored, words.mirrored_words(page.scales)),
            (self.tilted, words.height_words(page.height)),
        ):
            say(told, said)
            told.setVisible(bool(said))

    def _tell_corner(self, page: WeightPage) -> None:
        found, shift = page.moving.corner, page.moving.shift
        for widget in (self.moved, self.granted):
            widget.setVisible(found is not None)
        summed = "don't know"
        if found is None:
            say(self.corner, f"Don't know, because {page.moving.why_no_corner}.")
        else:
            say(self.corner, words.corner_words(found))
            say(self.granted, words.granted_words(found))
            self.moved.tell(words.moved_table(found))
            summed = f"rolls {number(found.roll_deg_per_g, 1)}° for each g"
        self.corner_fold.say("In a corner", summed)
        why = f"Braking: don't know, because {page.moving.why_no_shift}."
        say(self.shift, why if shift is None else words.shift_words(shift))

    def _tell_stands(self, page: WeightPage) -> None:
        self.stands_fold.say("On stands", summary(page.stands))
        self.stands.setVisible(bool(page.stands))
        self.stands.tell(page.stands)
        for widget in (self.no_stands, self.new_lift):
            widget.setVisible(not page.stands)
        for told, raising in zip((self.tail, self.nose), page.raising, strict=True):
            say(told, raising_words(raising))

    def _mark_chosen(self) -> None:
        if self.isVisible() and self.page is not None:
            self.heavy.show_chosen(self._session.state, self.page)
        else:
            self._waits = True


def _fill(column: QVBoxLayout, *widgets: QWidget) -> None:
    """Put widgets in; buttons of words stand at the left."""
    for widget in widgets:
        if widget.property("kind") == "link":
            column.addWidget(widget, 0, Qt.AlignmentFlag.AlignLeft)
        else:
            column.addWidget(widget)
