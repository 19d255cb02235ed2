"""What can be done with the one tube chosen: bends, parting, joining, state."""

from collections.abc import Callable, Sequence
from itertools import pairwise

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from app.look.style import label
from app.panels.tubes.edits import bend_in_leg, shape_of
from app.session import Edit, State
from app.widgets.binding import Draft
from app.widgets.choice_field import WordsBox
from app.widgets.field import Sentence, as_sentence
from app.widgets.field_rows import FieldContext, Rows
from app.widgets.figures import at_rest
from app.widgets.named import next_name
from app.widgets.tabs import Tabs
from app.widgets.word_button import word_button
from core.document.base import Entity, Ref
from core.document.errors import JigplateError
from core.document.lookup import sides
from core.document.project import Document
from core.document.sides import on_side
from core.document.steel import Point, Tube
from core.edits.things import mirror
from core.edits.tube_cuts import join_tubes, split_tube
from core.edits.tubes import remove_bend, set_state
from core.engine.address import Address
from core.workshop.field_shapes import Shape, shape_at
from core.workshop.kinds import choice_words


class OneTube(QWidget):
    """Tools for one tube."""

    def __init__(self, context: FieldContext, ref: Ref, parent: QWidget | None = None) -> None:
        """Offer what the tube allows now."""
        super().__init__(parent)
        self._context, self.ref = context, ref
        look = context.look
        self._box = QVBoxLayout(self)
        self._box.setContentsMargins(0, 0, 0, 0)
        self._box.setSpacing(look.px(8))
        self.title = label("", "head")
        self.length = label("", "small", "ink2")
        states = {state: choice_words(state) for state in shape_at(Tube, "state").choices}
        self.states: Tabs[str] = Tabs(look, states, "state of the steel", self)
        self.states.chosen.connect(self._set_state)
        self.legs, self.put_in = self._row("put a bend into", "Put it in", self.put_in_bend)
        self.radius = Draft(Shape("number", optional=True), "bend radius, else the die's", "mm")
        self.bends, self.take_bend = self._row("straighten", "Take it out", self.take_out_bend)
        self.joints, self.part = self._row("part it at", "Part it", self.part_it)
        self.others, self.join = self._row("join it with", "Join them", self.join_them)
        self.pair = word_button("Make it a left and right pair", "plain")
        self.pair.clicked.connect(self.make_pair)
        self.sentence = Sentence(look, self)
        self._lay_out()
        context.session.changed.connect(self._session_changed)
        self.refresh()

    def _row(self, words: str, do: str, run: Callable[[], None]) -> tuple[WordsBox, "ToolButton"]:
        box = WordsBox(self._context.look, self)
        box.setAccessibleName(words)
        box.setProperty("role", "table")
        button = ToolButton(words, do, box, self)
        button.do.clicked.connect(run)
        return box, button

    def _lay_out(self) -> None:
        at = Address(self.ref, "section")
        section = Rows(self._context.look, self)
        self.section_field = self._context.field_for(at, shape_at(Tube, "section"), section)
        section.add("section", self.section_field)
        radius = Rows(self._context.look, self)
        field = self._context.field_for(self.radius, self.radius.shape, radius)
        radius.add(self.radius.words, field)
        self.radius_field = field
        for widget in (
            self.title,
            self.length,
            section,
            self.states,
            self.put_in,
            radius,
            self.take_bend,
            self.part,
            self.join,
            self.pair,
            self.sentence,
        ):
            self._box.addWidget(widget)

    # What it shows.

    def _tube(self) -> Tube | None:
        thing = self._context.drawn.lookup.by_id.get(self.ref.id)
        if not isinstance(thing, Tube) or thing.pair != (self.ref.side != "one"):
            return None
        return on_side(thing, self.ref.side)

    def refresh(self) -> None:
        """Offer what the tube allows now."""
        tube = self._tube()
        if tube is None:
            return
        lookup = self._context.drawn.lookup
        self.title.setText(lookup.label(self.ref))
        self.length.setText(self._length())
        self.states.show_chosen(tube.state)
        names = [lookup.label(r) for r in (tube.start, *(b.point for b in tube.bends), tube.end)]
        legs = [(f"{a} to {b}", n) for n, (a, b) in enumerate(pairwise(names))]
        self.put_in.fill(legs)
        self.take_bend.fill([(name, number) for number, name in enumerate(names[1:-1])])
        self.part.fill([(lookup.label(ref), ref) for ref in self._following()])
        self.join.fill([(lookup.label(ref), ref) for ref in self._meeting(tube)])
        self.pair.setVisible(not lookup.by_id[self.ref.id].pair)

    def _length(self) -> str:
        try:
            length = shape_of(self._context.drawn.lookup.document, self.ref).length
        except JigplateError as error:
            return as_sentence(error)
        return f"{at_rest(round(length, 1), 'mm')} mm along its centre line"

    def _following(self) -> list[Ref]:
        """Joints that lie along the tube."""
        found: list[Ref] = []
        for point in self._context.drawn.lookup.document.points:
            for ref in sides(point):
                piece = on_side(point, ref.side)
                if piece.along and piece.along.tube == self.ref:
                    found.append(ref)
        return found

    def _meeting(self, tube: Tube) -> list[Ref]:
        """Tubes that start where this one ends."""
        found: list[Ref] = []
        for other in self._context.drawn.lookup.document.tubes:
            for ref in sides(other):
                piece = on_side(other, ref.side)
                if piece.start == tube.end and ref.id != self.ref.id:
                    found.append(ref)
        return found

    # What it does.

    @property
    def _name(self) -> str:
        return self._context.drawn.lookup.label(self.ref)

    def put_in_bend(self) -> None:
        """Put a bend into the middle of the chosen leg, and choose its point to be dragged."""
        leg, ref = self.put_in.value(), self.ref
        if not isinstance(leg, int) or not self.radius_field.settle():
            return
        radius = self.radius.value()
        name = next_name(self._context.drawn.lookup, Point)
        given = radius if isinstance(radius, float) else None
        point = self._make(
            f"Put a bend into {self._name}", lambda d: bend_in_leg(d, ref, leg, name, given)
        )
        if point is not None:
            self._context.selection.choose(Ref(point.id, ref.side if point.pair else "one"))

    def take_out_bend(self) -> None:
        """Make the tube straight where a bend is."""
        number, ref = self.take_bend.value(), self.ref
        if isinstance(number, int):
            self._try(f"Straighten {self._name}", lambda d: remove_bend(d, ref, number))

    def part_it(self) -> None:
        """Make two tubes out of it."""
        at, ref = self.part.value(), self.ref
        if isinstance(at, Ref):
            name = next_name(self._context.drawn.lookup, Tube)
            self._make(f"Part {self._name}", lambda d: split_tube(d, ref, at, name))

    def join_them(self) -> None:
        """Make one tube of it and the one that starts where it ends."""
        other, ref = self.join.value(), self.ref
        if isinstance(other, Ref):
            self._try(f"Join {self._name} and its next", lambda d: join_tubes(d, ref, other))

    def make_pair(self) -> None:
        """Give it its mirror image."""
        ref = self.ref
        if self._try(f"Make {self._name} a left and right pair", lambda d: mirror(d, ref.id)):
            self._context.selection.choose(Ref(ref.id, "left"))

    def _set_state(self, state: str) -> None:
        ref = self.ref
        words = f"Say that {self._name} is {choice_words(state)}"
        self._try(words, lambda d: set_state(d, ref, state))  # type: ignore[arg-type]
        self.refresh()

    def _make(
        self, words: str, edit: Callable[[Document], tuple[Document, Entity]]
    ) -> Entity | None:
        made: list[Entity] = []

        def do(document: Document) -> Document:
            after, thing = edit(document)
            made.append(thing)
            return after

        return made[-1] if self._try(words, do) else None

    def _try(self, words: str, edit: Edit) -> bool:
        try:
            self._context.session.apply(words, edit)
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
            return False
        self.sentence.clear()
        return True

    def _session_changed(self, before: State, after: State) -> None:
        if before.document is not after.document:
            self.refresh()


class ToolButton(QWidget):
    """Words, a list to choose from, and a button; gone when there is nothing to choose."""

    def __init__(self, words: str, do: str, box: WordsBox, parent: QWidget) -> None:
        """Put the three into a row."""
        super().__init__(parent)
        self.box = box
        self.do = word_button(do, "plain")
        self._values: list[object] = []
        layout = QVBoxLayout(self)
        layout.setContentsMargins(0, 0, 0, 0)
        layout.setSpacing(0)
        layout.addWidget(label(words, "small", "ink2"))
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(box, 1)
        row.addWidget(self.do)
        layout.addLayout(row)

    def fill(self, choices: Sequence[tuple[str, object]]) -> None:
        """Offer other choices; the one chosen stays if it is still there."""
        before = self.value()
        self._values = [value for _, value in choices]
        self.box.clear()
        self.box.addItems([words for words, _ in choices])
        if before in self._values:
            self.box.setCurrentIndex(self._values.index(before))
        self.setVisible(bool(choices))

    def value(self) -> object:
        """What is chosen."""
        number = self.box.currentIndex()
        return self._values[number] if 0 <= number < len(self._values) else None
