"""How the car is shown moved from where it is drawn: of the window only, nothing of it is kept."""

from typing import NamedTuple

from PySide6.QtCore import QObject, Signal

from app.selection import Selection
from app.session import State
from core.document.base import Vec3
from core.document.project import Document
from core.engine.assess import Assessment, assess
from core.engine.cells import Cell, Reader, When
from core.scene.posed import PosedCar, posed_car, scene_at
from core.scene.records import Scene

AT_REST = Vec3(0.0, 0.0, 0.0)


class Place(NamedTuple):
    """Where the sliders stand.

    Attributes:
        bump: how far the wheels rise against the body, mm.
        roll_deg: of the body, left side up above zero.
        rack: mm to the left.
        drop: how far the engine and gearbox are along their way out, mm.
        shift: the same as a move, mm, car frame.
    """

    bump: float = 0.0
    roll_deg: float = 0.0
    rack: float = 0.0
    drop: float = 0.0
    shift: Vec3 = AT_REST


DESIGN = Place()


class Pose(QObject):
    """Where wheels, rack, engine and gearbox are shown; handles stay those of the design.

    What is worked out for one position is kept until there is another, so that all views and
    panels share it.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        """Begin at the design position."""
        super().__init__(parent)
        self.place = DESIGN
        self._car = Known(None, DESIGN, PosedCar())
        self._last: Assessment | None = None
        self._scene: tuple[Scene, PosedCar, Scene] | None = None

    @staticmethod
    def of(selection: Selection) -> "Pose":
        """The one pose of a window: all its views are given the same selection."""
        return selection.findChild(Pose) or Pose(selection)

    @property
    def bump(self) -> float:
        """How far the wheels rise against the body, mm; each stops at its own stops."""
        return self.place.bump

    @property
    def roll_deg(self) -> float:
        """Turn of the body, left side up above zero, both tyres on the road."""
        return self.place.roll_deg

    @property
    def rack(self) -> float:
        """How far the rack is to the left, mm."""
        return self.place.rack

    @property
    def drop(self) -> float:
        """How far the engine and gearbox are along their way out, mm."""
        return self.place.drop

    @property
    def shift(self) -> Vec3:
        """The same as a move, mm, car frame."""
        return self.place.shift

    @property
    def is_design(self) -> bool:
        """Whether everything is shown where it is drawn."""
        return self.place == DESIGN

    @property
    def has_wheels_at_design(self) -> bool:
        """Whether wheels and rack are shown where they are drawn."""
        return self.bump == self.roll_deg == self.rack == 0.0

    def set_wheels(
        self, bump: float | None = None, roll_deg: float | None = None, rack: float | None = None
    ) -> None:
        """Show the wheels moved; what is not given stays."""
        was = self.place
        self._go(
            was._replace(
                bump=was.bump if bump is None else bump,
                roll_deg=was.roll_deg if roll_deg is None else roll_deg,
                rack=was.rack if rack is None else rack,
            )
        )

    def take_out(self, drop: float, shift: Vec3) -> None:
        """Show the engine and gearbox moved."""
        self._go(self.place._replace(drop=drop, shift=shift))

    def to_design(self) -> None:
        """Show everything where it is drawn."""
        self._go(DESIGN)

    def _go(self, place: Place) -> None:
        if place != self.place:
            self.place = place
            self.changed.emit()

    def car(self, state: State) -> PosedCar:
        """Everything that moves, where it stands now and what is read there."""
        document, known = state.document, self._car
        wheels = self.place._replace(drop=0.0, shift=AT_REST)
        if known.document is not document or known.place != wheels:
            found = self._worked_out(state, wheels)
            self._car = Known(document, wheels, found)
        return self._car.car

    def _worked_out(self, state: State, place: Place) -> PosedCar:
        def run(read: Reader) -> PosedCar:
            return read(posed_car, place.bump, place.roll_deg, place.rack)

        # From its own last table: a step of a slider then leaves what holds the wheels as it is.
        asked = Cell("asked posed_car", When.LIVE, run)
        last = self._last or state.assessment
        table = assess(state.document, state.assessment.meshes, last, (), When.LIVE, (asked,))
        self._last = table
        return table.value(asked)

    def scene(self, state: State) -> Scene:
        """The car as it is shown; with the wheels at design the very scene of the session."""
        if self.has_wheels_at_design:
            return state.scene
        car, last = self.car(state), self._scene
        if last is None or last[0] is not state.scene or last[1] is not car:
            last = self._scene = (state.scene, car, scene_at(state.scene, car))
        return last[2]


class Known(NamedTuple):
    """What moves, and for which document and place it was worked out."""

    document: Document | None
    place: Place
    car: PosedCar
