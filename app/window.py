"""The window: puts the parts together, carries out what actions ask, keeps unsaved work."""

from pathlib import Path

from PySide6.QtCore import Qt, QTimer, Slot
from PySide6.QtGui import QCloseEvent, QGuiApplication
from PySide6.QtWidgets import (
    QFrame,
    QMenu,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from app.actions import ACTIONS
from app.asks import Asks
from app.chosen import ChosenWork
from app.command_box import CommandBox
from app.crash import Crash, CrashReport
from app.desk_window import DeskWindow
from app.divided import Divided, Middle
from app.fault_tour import FaultTour
from app.files import FileWork
from app.first_run import FirstRun
from app.jobs import Failure, Jobs
from app.look.look import Look
from app.look.program_mark import program_icon
from app.look.style import dress
from app.menus import Bound
from app.notices import Notices
from app.panels.donors import DonorComparison
from app.parts import Parts, real_parts
from app.recent import RecentFiles
from app.recovery import Keeper, Kept, car_name, left_behind
from app.right_column import Held, Page, RightColumn, scrolled
from app.selection import Selection
from app.session import Session, State
from app.settings import Layout, Settings
from app.studies import Studies
from app.top_line import TopLine
from app.tray import Tray, over_tray
from core.document.errors import JigplateError
from core.document.lookup import entities

LEAST_SIZE = (960, 620)
FIRST_SIZE = (1600, 900)


class MainWindow(DeskWindow):
    """The one window of the program."""

    def __init__(
        self,
        session: Session,
        selection: Selection,
        look: Look,
        settings: Settings,
        *,
        parts: Parts | None = None,
        jobs: Jobs | None = None,
    ) -> None:
        """Put the window together; it is not shown yet.

        Args:
            session: the car and its past.
            selection: what is chosen.
            look: theme and scale.
            settings: what is remembered.
            parts: makers of its parts; without them those of the program.
            jobs: runs work in a worker; without one it makes its own.
        """
        super().__init__()
        self.session, self.selection, self.look = session, selection, look
        self.settings = settings
        self.jobs = jobs or Jobs(self)
        self.keeper = Keeper(session, settings.recovery, self)
        self.notices = Notices(look)
        self.asks = Asks(look, self)
        self.files = FileWork(session, self.keeper, self.asks, self.notices, settings)
        self.chosen = ChosenWork(session, selection, self.asks, self.notices)
        self._build(parts or real_parts())
        self._connect()
        self._place_window(settings.values.layout)
        self._name_window()
        self.reduce_motion(less=settings.values.less_motion)

    # --- building ----------------------------------------------------------------------------

    def _build(self, parts: Parts) -> None:
        given = (self.session, self.selection, self.look)
        self.setWindowIcon(program_icon())
        self.setMinimumSize(*LEAST_SIZE)
        self.views = parts.views(*given)
        self.order = parts.order_of_work(*given)
        self.panel = parts.step_panel(*given)
        self.travel = parts.travel_strip(*given)
        self.gauges = parts.gauges(*given)
        self.bound = Bound(ACTIONS, self, self, {"open": self._recent})
        self.first_run = FirstRun(self.look)
        self.tour = FaultTour(self.session, self.selection, self.look, self.jobs)
        self.things = parts.things(*given)
        self.donors = DonorComparison(*given)
        self.tray = Tray(self.look, _widget(self.things), self.donors)
        self.car = over_tray(_widget(self.views), self.tray)
        self.beginning = scrolled(self.first_run)
        self.centre = _stack(self.car, self.beginning)
        pages = self._pages(parts)
        self.right = RightColumn(self.selection, self.look, pages, self.notices)
        self.curves = parts.curves(*given)
        middle = Middle(self.centre, _widget(self.curves), _widget(self.travel))
        self.divided = Divided(self.look, self.order, middle, self.right)
        self.top = TopLine(self.look, self.bound, self.gauges, self.find_anything, self)
        self.setCentralWidget(_column(self.top, self.divided))
        self.box = CommandBox(self.session, self.selection, self.look, self.bound, self)
        dress(self, self.look)

    def _recent(self, parent: QWidget) -> QMenu:
        return RecentFiles(self.settings, self.files.open_path, parent)

    def _pages(self, parts: Parts) -> dict[Page, Held]:
        given = (self.session, self.selection, self.look)
        self.details = parts.details(*given)
        self.tubes = parts.tubes(*given)
        return {
            "step": Held(self.panel),
            "details": Held(_widget(self.details)),
            "tubes": Held(scrolled(_widget(self.tubes)), self.tubes.is_in_use),
            "bought": Held(parts.bought(*given)),
            "tour": Held(self.tour, lambda: True),
        }

    def _connect(self) -> None:
        self.session.changed.connect(self._name_window)
        self.session.changed.connect(self._let_go_of_what_is_gone)
        self.selection.list_wanted.connect(self.show_list)
        self.selection.make_wanted.connect(self.make_thing)
        self.selection.figure_wanted.connect(self._type_figure)
        self.selection.section_wanted.connect(self._show_step)
        self.selection.curves_wanted.connect(self.show_curves)
        self.curves.closed.connect(self._curves_closed)
        self.tray.closed.connect(self._tray_closed)
        self.views.type_wanted.connect(self._type_at)
        self.look.changed.connect(self._remember_look)
        self.files.opened.connect(self._another_car)
        self.files.leaving.connect(self.tour.switch.put_right)
        self.jobs.failed.connect(self._work_failed)
        first = self.first_run
        first.demo.connect(self.files.open_demo)
        first.tour.connect(self.fault_tour)
        first.empty.connect(self.files.new)
        first.another.connect(self.files.open)
        first.back.connect(self._to_car)
        first.take_up.connect(self.files.take_up)
        first.forget.connect(self._forget)
        self.tour.left.connect(self._tour_left)
        self.tour.refused.connect(self.notices.refuse)
        self.box.chose.connect(self._found)

    def _place_window(self, layout: Layout) -> None:
        screen = QGuiApplication.primaryScreen().availableGeometry()
        if layout.place is None:
            room = screen.size()
            self.resize(min(FIRST_SIZE[0], room.width()), min(FIRST_SIZE[1], room.height()))
        else:
            left, top, width, height = layout.place
            self.resize(min(width, screen.width()), min(height, screen.height()))
            if screen.contains(left + 40, top + 20):
                self.move(left, top)
        if layout.maximised:
            self.setWindowState(Qt.WindowState.WindowMaximized)
        QTimer.singleShot(0, self, lambda: self.divided.restore(layout))

    # --- beginning ---------------------------------------------------------------------------

    def begin(self, path: Path | None = None) -> None:
        """Open the file that was named, or show the ways to begin."""
        kept = left_behind(self.settings.recovery)
        self.first_run.show_kept(kept)
        opened = path is not None and self.files.open_path(path)
        if kept or not opened:
            self.welcome()

    @Slot(object)
    def _forget(self, kept: Kept) -> None:
        self.files.forget(kept)
        self.first_run.show_kept(left_behind(self.settings.recovery))

    @Slot()
    def _another_car(self) -> None:
        self._at = -1
        self.selection.choose()
        self.selection.point_at(None)
        self.tour.switch.forget()
        self.right.show_page("step")
        self.tray.shut()
        self._to_car()
        _widget(self.views).setFocus(Qt.FocusReason.OtherFocusReason)
        self.views.show_all()
        self._name_window()

    # --- failures and bugs -------------------------------------------------------------------

    @Slot(object)
    def _work_failed(self, failure: Failure) -> None:
        if isinstance(failure.error, JigplateError):
            self.notices.refuse(str(failure.error))
        else:
            self.bug(failure.error)

    def bug(self, error: BaseException) -> None:
        """Treat an exception from a worker as one of the window's own."""
        if self.crash is None:
            raise error
        self.crash.take(error)

    crash: Crash | None = None

    def watch(self, crash: Crash) -> None:
        """Show the report of the first bug that is caught."""
        self.crash = crash
        crash.reported.connect(self._report)

    @Slot(str, object)
    def _report(self, said: str, kept: Path | None) -> None:
        report = CrashReport(self.look, said, kept, self)
        report.accepted.connect(lambda: self._after_report(report))
        report.open()

    def _after_report(self, report: CrashReport) -> None:
        if report.wants_to_close:
            self.close()

    # --- keeping in step ---------------------------------------------------------------------

    @Slot()
    def _name_window(self) -> None:
        name = car_name(self.session.history.present)
        unsaved = self.keeper.has_unsaved
        self.top.show_unsaved("unsaved" if unsaved else "")
        self.setWindowTitle(f"{name}{', unsaved' if unsaved else ''} - Jigplate")

    @Slot(object, object)
    def _let_go_of_what_is_gone(self, before: State, after: State) -> None:
        if before.document is after.document or not self.selection.refs:
            return
        there = {thing.id for thing in entities(after.document)}
        self.selection.choose(*(ref for ref in self.selection.refs if ref.id in there))

    @Slot()
    def _remember_look(self) -> None:
        self.settings.remember(theme=self.look.theme, scale=self.look.scale)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask about unsaved work, then let go of everything."""
        if not self.files.may_leave():
            event.ignore()
            return
        self.keeper.drop()
        self._let_go()
        event.accept()

    def leave_at_once(self) -> None:
        """Keep unsaved work for the next start and let go of everything, without a question."""
        self.tour.switch.put_right()
        self.keeper.keep()
        self.keeper.let_go()
        self._let_go()

    def _let_go(self) -> None:
        self.keeper.close()
        self._remember_layout()
        self.jobs.close()
        Studies.of(self.selection).close()
        self.box.shut()
        self.views.close_views()

    def _remember_layout(self) -> None:
        box = self.normalGeometry()
        place = (box.x(), box.y(), box.width(), box.height())
        layout = Layout(place=place, maximised=self.isMaximized())
        self.settings.remember(layout=self.divided.remembered(layout))


def _widget(part: object) -> QWidget:
    assert isinstance(part, QWidget)
    return part


def _stack(*pages: object) -> QStackedWidget:
    made = QStackedWidget()
    for page in pages:
        made.addWidget(_widget(page))
    return made


def _column(*widgets: QWidget) -> QFrame:
    made = QFrame()
    made.setProperty("ground", "panel")
    layout = QVBoxLayout(made)
    layout.setContentsMargins(0, 0, 0, 0)
    layout.setSpacing(0)
    for number, widget in enumerate(widgets):
        layout.addWidget(widget, 0 if number or isinstance(widget, TopLine) else 1)
    return made
