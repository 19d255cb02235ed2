"""What the window is made of, as makers, so that a test may put plain parts in their places."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Protocol

from PySide6.QtWidgets import QWidget

from app.desk import ViewName
from app.look.look import Look
from app.panels.tubes.actions import Tool
from app.selection import Selection
from app.session import Session

Maker = Callable[[Session, Selection, Look], QWidget]


class CarViewsLike(Protocol):
    """The views of the car, as the window uses them; also a QWidget."""

    def show_view(self, name: ViewName, /) -> None:
        """Bring a view, or all of them, to the front."""
        ...

    def show_all(self) -> None:
        """Fit the car in."""
        ...

    def show_chosen(self) -> None:
        """Go to what is chosen."""
        ...

    def set_reduced_motion(self, reduced: bool, /) -> None:  # noqa: FBT001 - as a switch gives it
        """Go to places at once, or let the views ease there."""
        ...

    @property
    def type_wanted(self) -> Any:  # noqa: ANN401 - a Qt signal; checkers see a class as well
        """A Handle whose figures are to be typed."""
        ...

    def close_views(self) -> None:
        """Let go of everything that draws; nothing is drawn after this."""
        ...


class TravelLike(Protocol):
    """The travel strip, as the window uses it; also a QWidget."""

    def set_reduced_motion(self, reduced: bool, /) -> None:  # noqa: FBT001 - as a switch gives it
        """Play from stop to stop, or not at all."""
        ...


class DetailsLike(Protocol):
    """The panel about what is chosen, as the window uses it; also a QWidget."""

    def take_out(self) -> None:
        """Take out what is chosen; what hangs on it is named first."""
        ...

    def rename(self) -> None:
        """Take the keyboard to the name of what is chosen."""
        ...

    def type_at(self, path: str, /) -> None:
        """Take the keyboard to the figure at a path of what is chosen."""
        ...


class ThingsLike(Protocol):
    """The tables and forms of every kind, as the window uses them; also a QWidget."""

    def show_kind(self, field: str, /) -> None:
        """Show the table of a kind, by its list in the document; empty for everything."""
        ...

    def begin(self, field: str, /) -> None:
        """Open the form for a new thing of a kind."""
        ...


class TubesLike(Protocol):
    """The tube tools, as the window uses them; also a QWidget."""

    def begin(self, tool: Tool, /) -> None:
        """Bring a tool to the front."""
        ...

    def is_in_use(self) -> bool:
        """Whether it waits for something to be chosen, or works on what is."""
        ...


class CurvesLike(Protocol):
    """The curves of an axle, as the window uses them; also a QWidget."""

    @property
    def closed(self) -> Any:  # noqa: ANN401 - a Qt signal; checkers see a class as well
        """They were asked to be put away."""
        ...


@dataclass(frozen=True)
class Parts:
    """Makers of the parts of the window."""

    order_of_work: Maker
    step_panel: Maker
    details: Callable[[Session, Selection, Look], DetailsLike]
    things: Callable[[Session, Selection, Look], ThingsLike]
    tubes: Callable[[Session, Selection, Look], TubesLike]
    bought: Maker
    curves: Callable[[Session, Selection, Look], CurvesLike]
    travel_strip: Callable[[Session, Selection, Look], TravelLike]
    gauges: Maker
    views: Callable[[Session, Selection, Look], CarViewsLike]


def real_parts() -> Parts:
    """The parts of the program; imports what draws, which takes a second or more."""
    from app.panels.bought import BoughtList  # noqa: PLC0415 - see the docstring
    from app.panels.curves import CurvesPanel  # noqa: PLC0415
    from app.panels.details import Details  # noqa: PLC0415
    from app.panels.gauges import Gauges  # noqa: PLC0415
    from app.panels.order_of_work import OrderOfWork  # noqa: PLC0415
    from app.panels.things import Things  # noqa: PLC0415
    from app.panels.travel import TravelStrip  # noqa: PLC0415
    from app.panels.tubes import TubeTools  # noqa: PLC0415
    from app.right_panel import right_panel  # noqa: PLC0415
    from app.scene.views import CarViews  # noqa: PLC0415

    return Parts(
        order_of_work=OrderOfWork,
        step_panel=right_panel,
        details=Details,
        things=Things,
        tubes=TubeTools,
        bought=BoughtList,
        curves=CurvesPanel,
        travel_strip=TravelStrip,
        gauges=Gauges,
        views=CarViews,
    )
