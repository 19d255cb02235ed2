"""Drawing a tube from joint to joint, and putting in points."""

from collections import Counter

from PySide6.QtWidgets import QWidget

from app.panels.tubes.edits import are_of_one_side, point_on_tube
from app.panels.tubes.form import Making, NotYetError, ToolForm
from app.widgets.field_rows import FieldContext
from app.widgets.named import next_name
from core.document.base import Entity, Ref, Side, Vec3
from core.document.lookup import Lookup
from core.document.sides import mirror_place
from core.document.steel import Point, Tube
from core.edits.things import make
from core.edits.tubes import draw_tube
from core.workshop.field_shapes import Shape, shape_at

_JOINT = Shape("reference", kinds=("point",))
_ONE_SIDE = "The two joints are of one side, so the tube is a pair as well."


class DrawTube(ToolForm):
    """A straight tube between two joints, which may be chosen in the view one after the other."""

    def __init__(self, context: FieldContext, parent: QWidget | None = None) -> None:
        """Ask for two joints and a section."""
        super().__init__(
            context,
            "A tube from joint to joint",
            "Choose two tube joints in the view, or type their names.",
            "Draw it",
            parent,
        )
        lookup = context.drawn.lookup
        self.ask("start", "from", _JOINT)
        self.ask("end", "to", _JOINT)
        section = usual_section(lookup)
        self.ask("section", "section", Shape("reference", kinds=("section",)), value=section)
        self.ask("name", "name", Shape("text"), value=next_name(lookup, Tube))
        self.ask("pair", "left and right", Shape("flag"), value=False)
        for end in ("start", "end"):
            self.fields[end].kept.connect(self._suit_pair)
        self.finish()
        context.selection.changed.connect(self._take_chosen)
        self._take_chosen()

    def _take_chosen(self) -> None:
        points = self._chosen_points()
        if len(points) == 2:
            self.put("start", points[0])
            self.put("end", points[1])
        elif len(points) == 1 and points[0] not in self._ends():
            self.put("start" if self._ends()[0] is None else "end", points[0])
        self._suit_pair()

    def _chosen_points(self) -> list[Ref]:
        by_id = self.context.drawn.lookup.by_id
        return [r for r in self.context.selection.refs if isinstance(by_id.get(r.id), Point)]

    def _ends(self) -> tuple[object, object]:
        return (self.fields["start"].binding.value(), self.fields["end"].binding.value())

    def _suit_pair(self) -> None:
        start, end = self._ends()
        if isinstance(start, Ref) and isinstance(end, Ref):
            pair = are_of_one_side(start, end)
            self.put("pair", pair)
            self.sentence.say(_ONE_SIDE if pair else "", ink="ink2")

    def plan(self) -> tuple[str, Making, Side]:
        """A tube between the two joints."""
        start, end, section = self.ref("start"), self.ref("end"), self.ref("section")
        name, pair = str(self.given("name") or ""), self.given("pair") is True
        side = start.side if pair else "one"
        if pair and side == "right":
            start, end = start.mirrored(), end.mirrored()
        label = self.context.drawn.lookup.label
        words = f"Draw {name} from {label(start)} to {label(end)}"
        return words, lambda d: draw_tube(d, name, section, start, end, pair=pair), side

    def after(self, thing: Entity) -> None:
        """Begin the next tube where this one ends."""
        self.put("start", self._ends()[1])
        self.put("end", None)
        self.put("name", next_name(self.context.drawn.lookup, type(thing)))


class NewPoint(ToolForm):
    """A point at coordinates, or on the tube chosen."""

    def __init__(self, context: FieldContext, parent: QWidget | None = None) -> None:
        """Ask for a place: three figures, or a tube and a distance along it."""
        super().__init__(
            context,
            "A point",
            "At coordinates in the car, or on a tube: it follows that tube from then on.",
            "Put it in",
            parent,
        )
        lookup = context.drawn.lookup
        self.ask("name", "name", Shape("text"), value=next_name(lookup, Point))
        self.ask("at", "place", Shape("place", optional=True), "mm")
        self.ask("pair", "left and right", Shape("flag"), value=False)
        self.ask("tube", "or on tube", Shape("reference", optional=True, kinds=("tube",)))
        self.ask("distance", "so far from its start", Shape("number", optional=True), "mm")
        self.ask("measured_to", "measured to", shape_at(Point, "measured_to"), value="node")
        self.finish()
        context.selection.changed.connect(self._take_chosen)
        self._take_chosen()

    def _take_chosen(self) -> None:
        refs, by_id = self.context.selection.refs, self.context.drawn.lookup.by_id
        if len(refs) == 1 and isinstance(by_id.get(refs[0].id), Tube):
            self.put("tube", refs[0])

    def plan(self) -> tuple[str, Making, Side]:
        """A point where it was said to be."""
        name, at = str(self.given("name") or ""), self.given("at")
        tube, distance = self.given("tube"), self.given("distance")
        if isinstance(at, Vec3):
            return self._at(name, at)
        if isinstance(tube, Ref) and isinstance(distance, float):
            words = f"Put {name} on {self.context.drawn.lookup.label(tube)}"
            return words, lambda d: point_on_tube(d, tube, distance, name), tube.side
        raise NotYetError("Give all three coordinates, or a tube and how far from its start.")

    def _at(self, name: str, at: Vec3) -> tuple[str, Making, Side]:
        pair, measured_to = self.given("pair") is True, self.given("measured_to")
        side: Side = "right" if pair and at.y < 0 else "left"
        stored = mirror_place(at) if side == "right" else at
        return (
            f"Put {name} in",
            lambda d: make(d, Point, name, at=stored, pair=pair, measured_to=measured_to),
            side,
        )

    def after(self, thing: Entity) -> None:
        """Begin the next point."""
        self.put("name", next_name(self.context.drawn.lookup, type(thing)))


def usual_section(lookup: Lookup) -> Ref | None:
    """The section that most tubes have; the first where there are no tubes yet."""
    counted = Counter(tube.section for tube in lookup.document.tubes)
    if counted:
        return counted.most_common(1)[0][0]
    return next((Ref(section.id) for section in lookup.document.sections), None)
