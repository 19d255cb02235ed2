"""Several things chosen at once: what can be said of all of them together."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.style import label
from app.session import Edit
from app.widgets.binding import Draft
from app.widgets.choice_field import choices_of
from app.widgets.field import Sentence, as_sentence
from app.widgets.field_rows import FieldContext, Rows
from app.widgets.reference_field import ReferenceField
from app.widgets.tabs import Tabs
from core.document.base import Ref, SteelState
from core.document.errors import JigplateError
from core.document.lookup import kind_of
from core.document.project import Document
from core.document.steel import Tube
from core.edits.tubes import set_section, set_state
from core.workshop.field_shapes import Shape, field_shapes
from core.workshop.kinds import choice_words

MOST_NAMES = 12


class Several(QWidget):
    """The names of what is chosen; of tubes alone, section and state for all of them."""

    def __init__(
        self, context: FieldContext, refs: tuple[Ref, ...], parent: QWidget | None = None
    ) -> None:
        """Show several things."""
        super().__init__(parent)
        self._context, self._refs = context, refs
        look, by_id = context.look, context.drawn.lookup.by_id
        things = [by_id[ref.id] for ref in refs]
        kinds = sorted({kind_of(thing) for thing in things})
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(look.px(8))
        kind = kinds[0] if len(kinds) == 1 else "thing"
        box.addWidget(label(f"{len(refs)} {kind}s", "title"))
        names = ", ".join(context.drawn.lookup.label(ref) for ref in refs[:MOST_NAMES])
        more = f" and {len(refs) - MOST_NAMES} more" if len(refs) > MOST_NAMES else ""
        box.addWidget(label(names + more, "small", "ink2"))
        self.sentence = Sentence(look, self)
        if all(isinstance(thing, Tube) for thing in things):
            box.addWidget(self._for_tubes(things[0]))
        box.addWidget(self.sentence)

    def _for_tubes(self, first: object) -> QWidget:
        context = self._context
        rows = Rows(context.look, self)
        same = isinstance(first, Tube) and len({self._section(ref) for ref in self._refs}) == 1
        start = first.section if same and isinstance(first, Tube) else None
        shape = Shape("reference", optional=True, kinds=("section",))
        self.section = Draft(shape, "section of all", value=start)
        self.section_field = context.field_for(self.section, shape, rows)
        if isinstance(self.section_field, ReferenceField):
            self.section_field.open_words = "they differ"
            self.section_field.refresh()
        self.section_field.kept.connect(self._set_section)
        rows.add("section of all", self.section_field)
        words = {
            str(state): choice_words(state) for state in choices_of(field_shapes(Tube)["state"])
        }
        self.states: Tabs[str] = Tabs(context.look, words, "state of all", rows)
        self.states.chosen.connect(self._set_state)
        rows.add_wide(self.states)
        return rows

    def _section(self, ref: Ref) -> Ref | None:
        thing = self._context.drawn.lookup.by_id[ref.id]
        return thing.section if isinstance(thing, Tube) else None

    def _set_section(self) -> None:
        section, refs = self.section.value(), self._refs
        if isinstance(section, Ref):
            name = self._context.drawn.lookup.label(section)
            self._try(f"Make {len(refs)} tubes of {name}", lambda d: set_section(d, refs, section))

    def _set_state(self, state: SteelState) -> None:
        refs = self._refs
        words = f"Say that {len(refs)} tubes are {choice_words(state)}"
        self._try(words, lambda d: all_in_state(d, refs, state))

    def _try(self, words: str, edit: Edit) -> None:
        try:
            self._context.session.apply(words, edit)
        except JigplateError as error:
            self.sentence.say(as_sentence(error))
        else:
            self.sentence.clear()


def all_in_state(document: Document, refs: tuple[Ref, ...], state: SteelState) -> Document:
    """The document with several tubes in one state."""
    for ref in refs:
        document = set_state(document, ref, state)
    return document
