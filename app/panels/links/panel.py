"""The links of an axle: figures where the strip stands, joints, dampers."""

from typing import Literal

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.links.dampers import Dampers
from app.panels.links.figures import FIRST, FOLDED, Read, lines, read_at, together
from app.panels.links.joints import Joints
from app.panels.links.table import LineTable
from app.pose import Pose
from app.selection import Selection
from app.session import Session, State
from app.widgets.fold_line import FoldLine
from app.widgets.following import Following
from app.widgets.rows import Section, say
from app.widgets.word_button import word_button
from core.assess.axle_curves import SIDES, CornerSide
from core.engine.cells import NotComputedError
from core.quantities import format_signed, number
from core.study.order import Order

Which = Literal["driven", "other"]

ENTER = (
    "Enter the axle and its two corners: links, upright and wheel. Camber, toe-in, how far each "
    "joint tilts and what is left in the dampers follow from them."
)
NO_TRAVEL = "Enter how far the wheels bump and droop to see each figure's range over travel."
NO_AXIS = "These links have no two balls to steer about: no castor, kingpin, trail or scrub."
DESIGN = "at the design position"


class LinksPanel(Following):
    """What the links of one axle do to its wheels, joints and dampers."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        which: Which = "driven",
        parent: QWidget | None = None,
    ) -> None:
        """Show the links of the axle that is driven, or of the other."""
        super().__init__(session, parent)
        self._selection, self._look, self._which = selection, look, which
        self.pose = Pose.of(selection)
        self.unknown = Section(look, "Links", "don't know yet")
        self.now = Section(look, "Now", DESIGN)
        self.joint_part = Section(look, "Joints")
        self.damper_part = Section(look, "Dampers", "over the whole travel")
        self.unknown_words = label("", "body", "ink2")
        self.enter = word_button("Enter a corner")
        self.table, self.more_table = LineTable(look), LineTable(look)
        self.note, self.more_note = label("", "small", "ink2"), label("", "small", "ink2")
        self.curves = word_button("Curves over travel and steer")
        self.more = FoldLine(look)
        self.joints = Joints(session, selection, look)
        self.dampers = Dampers(selection, look)
        self._lay_out()
        self.more.toggled.connect(self._again)
        self.curves.clicked.connect(selection.curves_wanted)
        self.enter.clicked.connect(self._enter)
        self.pose.changed.connect(self._again)

    def _lay_out(self) -> None:
        self.more.setText("More: centres, slopes, steering")
        self._fill(self.unknown, self.unknown_words, self.enter)
        self._fill(self.now, self.table, self.note, self.curves, self.more, self.more_table)
        self.now.body.addWidget(self.more_note)
        self._fill(self.joint_part, self.joints)
        self._fill(self.damper_part, self.dampers)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        for section in (self.unknown, self.now, self.damper_part, self.joint_part):
            column.addWidget(section)

    def _fill(self, section: Section, *widgets: QWidget) -> None:
        left = Qt.AlignmentFlag.AlignLeft
        for widget in widgets:
            if widget in (self.enter, self.curves):
                section.body.addWidget(widget, 0, left)
            else:
                section.body.addWidget(widget)

    @property
    def end(self) -> str:
        """The end of the car that it is about."""
        driven = Order(self._session.state.document).driven_end
        other = "front" if driven == "rear" else "rear"
        return driven if self._which == "driven" else other

    def _again(self) -> None:
        if self.isVisible():
            self.refresh(self._session.state)
        else:
            self._waits = True

    def _enter(self) -> None:
        self._selection.make_wanted.emit("corners" if self._has_axle() else "axles")

    def _has_axle(self) -> bool:
        return any(axle.end == self.end for axle in self._session.state.document.axles)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        try:
            found = read_at(state, self.pose, self.end)
        except NotComputedError as error:
            say(self.unknown_words, f"Don't know, because {error}. {ENTER}")
            self.enter.setText("Enter a corner" if self._has_axle() else "Enter an axle")
            self._show(is_known=False)
            return
        self._show(is_known=True)
        self.table.tell(tuple(lines(found, FIRST)))
        self.now.say("Now", self._place(found))
        self._tell_note(found)
        self._tell_more(state, found)
        self._tell_parts(state, found)

    def _show(self, *, is_known: bool) -> None:
        self.unknown.setVisible(not is_known)
        for part in (self.now, self.joint_part, self.damper_part):
            part.setVisible(is_known)

    def _place(self, found: Read) -> str:
        """Where the wheels stand."""
        if self.pose.has_wheels_at_design:
            return DESIGN
        parts = [f"{side} {_height(found.rise[side])}" for side in SIDES if side in found.rise]
        if self.pose.rack and found.curves.is_steered:
            way = "left" if self.pose.rack > 0 else "right"
            parts.append(f"rack {number(abs(self.pose.rack), 0)} {way}")
        return " · ".join(parts)

    def _tell_note(self, found: Read) -> None:
        told: list[str] = []
        whys = dict(found.why)
        if len(set(whys.values())) == 1 and len(whys) == len(SIDES):
            told.append(f"Don't know, because {whys['left']}.")
        else:
            told += [f"{side}: don't know, because {why}." for side, why in whys.items()]
        if found.at and not found.curves.curves:
            told.append(NO_TRAVEL)
        if found.at and not any("castor" in at for at in found.at.values()):
            told.append(NO_AXIS)
        say(self.note, " ".join(told))
        self.note.setVisible(bool(told))

    def _tell_more(self, state: State, found: Read) -> None:
        is_open = self.more.isChecked()
        self.more_table.setVisible(is_open)
        self.more_note.setVisible(is_open)
        if not is_open:
            return
        both = together(state, self.end, self.pose.rack)
        self.more_table.tell((*lines(found, FOLDED), *both.lines))
        said = [f"Don't know more, because {why}." for why in both.unknown]
        say(self.more_note, " ".join(said))
        self.more_note.setVisible(bool(said))

    def _tell_parts(self, state: State, found: Read) -> None:
        corners = found.curves.corners
        now: dict[CornerSide, float | None] = {
            side: found.at.get(side, {}).get("damper_length") for side in SIDES
        }
        self.dampers.tell(state, corners, now)
        remark = self.joints.tell(state, corners)
        self.joint_part.say("Joints", remark)


def _height(rise: float) -> str:
    return "at design" if abs(rise) < 0.05 else format_signed(rise, 1)  # noqa: PLR2004 - half of the last digit shown
