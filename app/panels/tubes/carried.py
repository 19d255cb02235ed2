"""Brackets and mounts: what they carry and the tube joint they stand on."""

from PySide6.QtWidgets import QWidget

from app.panels.tubes.edits import bracket_on, mount_on
from app.panels.tubes.form import Making, NotYetError, ToolForm
from app.widgets.field_rows import FieldContext
from app.widgets.named import next_name
from core.document.base import Entity, Ref, Side
from core.document.power import Mount
from core.document.steel import Bracket
from core.workshop.field_shapes import Shape, shape_at


class NewBracket(ToolForm):
    """A bracket between what it carries and what it stands on."""

    def __init__(self, context: FieldContext, parent: QWidget | None = None) -> None:
        """Ask for both."""
        super().__init__(
            context,
            "A bracket",
            "It carries a pick-up, a mount or a rack foot, and stands best on a tube joint.",
            "Put it in",
            parent,
        )
        lookup = context.drawn.lookup
        self.ask("carries", "carries", shape_at(Bracket, "carries"))
        self.ask("on", "stands on", shape_at(Bracket, "on"))
        self.ask("thickness", "plate thickness", shape_at(Bracket, "thickness"), "mm")
        self.ask("name", "name", Shape("text"), value=next_name(lookup, Bracket))
        self.finish()

    def plan(self) -> tuple[str, Making, Side]:
        """A bracket from one to the other."""
        carries, on = self.ref("carries"), self.ref("on")
        name, thickness = str(self.given("name") or ""), self.given("thickness")
        plate = thickness if isinstance(thickness, float) else None
        label = self.context.drawn.lookup.label
        words = f"Put {name} in for {label(carries)} on {label(on)}"
        return words, lambda d: bracket_on(d, name, carries, on, plate), carries.side

    def after(self, thing: Entity) -> None:
        """Begin the next bracket."""
        self.put("carries", None)
        self.put("name", next_name(self.context.drawn.lookup, type(thing)))


class NewMount(ToolForm):
    """A mount, and the joint its bracket stands on."""

    def __init__(self, context: FieldContext, parent: QWidget | None = None) -> None:
        """Ask for the mount's place and for the joint."""
        super().__init__(
            context,
            "A mount",
            "Its place is in the frame of the engine and gearbox; a bracket joins it to a joint.",
            "Put it in",
            parent,
        )
        lookup = context.drawn.lookup
        units = [Ref(unit.id) for unit in lookup.document.power_units]
        self.ask("unit", "holds", shape_at(Mount, "unit"), value=units[0] if units else None)
        self.ask("form", "form", shape_at(Mount, "form"), value="bush")
        self.ask("place", "place on the engine and gearbox", shape_at(Mount, "place"), "mm")
        self.ask("chassis_end", "chassis end of a stay", shape_at(Mount, "chassis_end"), "mm")
        self.ask("joint", "on tube joint", Shape("reference", optional=True, kinds=("point",)))
        self.ask("name", "name", Shape("text"), value=next_name(lookup, Mount))
        self.finish()

    def plan(self) -> tuple[str, Making, Side]:
        """A mount and perhaps its bracket."""
        name, joint = str(self.given("name") or ""), self.given("joint")
        fields: dict[str, object] = {"unit": self.ref("unit"), "form": self.given("form")}
        for place in ("place", "chassis_end"):
            value = self.given(place)
            if value is not None:
                fields[place] = value
        if "place" not in fields:
            raise NotYetError("«place on the engine and gearbox» is not given yet.")
        on = joint if isinstance(joint, Ref) else None
        bracket = f"{name} bracket"
        return f"Put {name} in", lambda d: mount_on(d, name, fields, on, bracket), "one"

    def after(self, thing: Entity) -> None:
        """Begin the next mount."""
        self.put("name", next_name(self.context.drawn.lookup, type(thing)))
