"""The head of the details: name to be changed in place, what it is, and which side is shown."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.style import label
from app.panels.details.said import name_of
from app.widgets.field_rows import FieldContext
from app.widgets.tabs import Tabs
from app.widgets.text_field import TextField
from core.document.base import Ref, Side
from core.document.lookup import kind_of

_SIDES: dict[Side, str] = {"left": "left", "right": "right"}


class Head(QWidget):
    """Name, kind and side of one thing."""

    def __init__(self, context: FieldContext, ref: Ref, parent: QWidget | None = None) -> None:
        """Show the head of a thing."""
        super().__init__(parent)
        self.context, self.ref = context, ref
        thing = context.drawn.lookup.by_id[ref.id]
        box = QVBoxLayout(self)
        box.setContentsMargins(0, 0, 0, 0)
        box.setSpacing(context.look.px(4))
        said = name_of(context.session, context.drawn, ref.id)
        self.name = TextField(
            context.session, context.selection, context.look, said, self, drawn=context.drawn
        )
        self.name.line.setProperty("role", "title")
        self.name.line.setToolTip("The name; click to change it, Enter keeps it")
        self.kind = label(kind_of(thing), "small", "ink2")
        box.addWidget(self.name)
        box.addWidget(self.kind)
        self.sides: Tabs[Side] | None = None
        if thing.pair:
            self.sides = Tabs(context.look, _SIDES, "side shown", self)
            self.sides.show_chosen(ref.side)
            self.sides.chosen.connect(self._show_side)
            box.addWidget(self.sides)
            self.kind.setText(f"{kind_of(thing)}, a left and right pair")

    def _show_side(self, side: Side) -> None:
        self.context.selection.choose(Ref(self.ref.id, side))
