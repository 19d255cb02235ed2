"""What the window does when an action asks for it."""

from pathlib import Path

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QMainWindow, QStackedWidget, QWidget

from app import words
from app.chosen import ChosenWork
from app.command_box import CommandBox
from app.divided import Divided
from app.fault_tour import FaultTour
from app.files import FileWork
from app.first_run import FirstRun
from app.look.look import SCALE_STEP, Look
from app.notices import Notices
from app.panels.donors import COMPARISON, DonorComparison
from app.panels.tubes.actions import Tool
from app.parts import CarViewsLike, CurvesLike, DetailsLike, ThingsLike, TravelLike, TubesLike
from app.places import first_in, go_round
from app.right_column import RightColumn
from app.selection import Selection
from app.session import Session
from app.settings import Settings
from app.tray import Tray
from core.document.base import Ref
from core.document.lookup import entities
from core.document.project import KINDS
from core.engine.address import Address
from core.engine.finding import Finding
from core.scene.records import Handle
from core.workshop.kinds import kind_words


class DeskWindow(QMainWindow):
    """A window as actions see it; the one that puts its parts together is made of it."""

    session: Session
    selection: Selection
    look: Look
    settings: Settings
    notices: Notices
    files: FileWork
    chosen: ChosenWork
    views: CarViewsLike
    details: DetailsLike
    things: ThingsLike
    tubes: TubesLike
    order: QWidget
    curves: CurvesLike
    travel: TravelLike
    gauges: QWidget
    car: QWidget
    centre: QStackedWidget
    beginning: QWidget
    first_run: FirstRun
    tour: FaultTour
    right: RightColumn
    divided: Divided
    donors: DonorComparison
    tray: Tray
    box: CommandBox

    _at = -1
    """Which finding was gone to last."""
    _own_path: Path | None = None
    """What was open before the fault tour."""

    def welcome(self) -> None:
        """Show the ways to begin."""
        is_there = any(True for thing in entities(self.session.state.document) if thing.id != "car")
        self.first_run.offer_back(is_there=is_there)
        self.centre.setCurrentWidget(self.beginning)
        self.first_run.buttons["demo"].setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot()
    def _to_car(self) -> None:
        self.centre.setCurrentWidget(self.car)

    def undo(self) -> None:
        """Take the last change back."""
        self.session.undo()

    def redo(self) -> None:
        """Bring a change back."""
        self.session.redo()

    def rename_chosen(self) -> None:
        """Take the keyboard to the name of the chosen thing."""
        self._to_car()
        self.right.show_page("details")
        self.details.rename()

    def take_out_chosen(self) -> None:
        """Take the chosen things out, after what hangs on them has been named."""
        self.right.show_page("details")
        self.details.take_out()

    @Slot(object)
    def _type_at(self, handle: Handle) -> None:
        """Take the keyboard to the figures of a handle that was double-clicked."""
        self.selection.choose(handle.ref)
        self.right.show_page("details")
        self.details.type_at(handle.path)

    @Slot(object)
    def _type_figure(self, address: Address) -> None:
        """Take the keyboard to a figure that was asked for from elsewhere."""
        self.selection.choose(address.ref)
        self.right.show_page("details")
        self.details.type_at(address.path)

    @Slot()
    def _show_step(self, _section: str = "") -> None:
        """Bring the step to the front of the right column, for a section that was asked for."""
        self._to_car()
        self.right.show_page("step")

    @Slot()
    def show_curves(self) -> None:
        """Show the curves between car and travel strip, and take the keyboard there."""
        self._to_car()
        self.divided.show_curves(on=True)
        assert isinstance(self.curves, QWidget)
        target = first_in(self.curves)
        if target is not None:
            target.setFocus(Qt.FocusReason.OtherFocusReason)

    def curves_or_not(self) -> None:
        """Show the curves, or put them away."""
        if self.divided.shows_curves:
            self._curves_closed()
        else:
            self.show_curves()

    @Slot()
    def _curves_closed(self) -> None:
        self.divided.show_curves(on=False)
        assert isinstance(self.views, QWidget)
        self.views.setFocus(Qt.FocusReason.OtherFocusReason)

    def less_motion(self) -> None:
        """Go to places at once, or ease there again; it is remembered."""
        less = not self.settings.values.less_motion
        self.settings.remember(less_motion=less)
        self.reduce_motion(less=less)
        said = "The views go to a place at once." if less else "The views move to a place."
        self.notices.tell(said)

    def reduce_motion(self, *, less: bool) -> None:
        """Move nothing by itself, or let views and travel strip move again."""
        self.views.set_reduced_motion(less)
        self.travel.set_reduced_motion(less)

    def use_tool(self, tool: Tool) -> None:
        """Bring a tube tool to the front."""
        self._to_car()
        self.right.show_page("tubes")
        self.tubes.begin(tool)

    @Slot(str)
    def show_list(self, field: str) -> None:
        """Open the table of a kind, of everything, the bought parts, or donors side by side."""
        self._to_car()
        if field == "bought":
            self.right.show_page("bought")
            self.right.take_keyboard()
            return
        if field == COMPARISON:
            self.tray.open("Donor corners beside one another", self.donors)
            return
        self.things.show_kind(field)
        self._open_tray(field)

    @Slot(str)
    def make_thing(self, field: str) -> None:
        """Open the form for a new thing of a kind, over the table of that kind."""
        self._to_car()
        self._open_tray(field)
        self.things.begin(field)

    def _open_tray(self, field: str) -> None:
        many = kind_words(KINDS[field]).many if field else "things"
        self.tray.open(f"All {many} of the car")

    @Slot()
    def _tray_closed(self) -> None:
        assert isinstance(self.views, QWidget)
        self.views.setFocus(Qt.FocusReason.OtherFocusReason)

    def larger(self, steps: int) -> None:
        """Change all sizes by so many steps."""
        self.look.set_scale(self.look.scale + steps * SCALE_STEP)

    def usual_layout(self) -> None:
        """Divide the window as fits its size."""
        self.divided.divide()

    def find_anything(self) -> None:
        """Open the command box."""
        self.box.open()

    def next_place(self, by: int) -> None:
        """Take the keyboard to the next part of the window."""
        assert isinstance(self.curves, QWidget)
        assert isinstance(self.travel, QWidget)
        below = (self.tray, self.curves, self.right, self.travel)
        places = (self.order, self.centre, *below, self.gauges)
        go_round(places, self.focusWidget(), by)

    def next_to_look_at(self, by: int) -> None:
        """Go to the next finding that is not fine, worst first."""
        found = self.session.state.findings
        open_ones = [f for f in found if f.verdict != "fine" and not f.accepted]
        if not open_ones:
            self.notices.tell("Nothing that is looked at is amiss.")
            return
        at = self._at + by if self._at >= 0 or by > 0 else -1
        self._at = at % len(open_ones)
        self.go_to(open_ones[self._at])

    def go_to(self, finding: Finding) -> None:
        """Choose what a finding is about and take the views there."""
        self.selection.choose(*finding.subjects)
        self.selection.looked_at.emit(finding)

    def fault_tour(self) -> None:
        """Open the demo car as a copy and show its faults."""
        own = self.session.path
        if not self.files.open_demo():
            return
        self._own_path = own
        self.right.show_page("tour")

    @Slot()
    def _tour_left(self) -> None:
        self.selection.choose()
        self.right.show_page("step")
        own, self._own_path = self._own_path, None
        if own is not None:
            self.files.open_path(own)

    def not_looked_at(self) -> None:
        """Tell what no check answers."""
        self._read("What is not looked at", words.not_looked_at())

    def keys(self) -> None:
        """List the shortcuts."""
        self._read("Keys", words.keys())

    def about(self) -> None:
        """Tell version and licences."""
        self._read("About Jigplate", words.about(self.settings))

    def _read(self, title: str, what: words.Paragraphs) -> None:
        words.Pages(self.look, title, what, self).open()

    @Slot(object)
    def _found(self, _ref: Ref) -> None:
        self.views.show_chosen()
