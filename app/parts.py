"""What the window is made of, as makers, so that a test may put plain parts in their places."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from PySide6.QtWidgets import QWidget

from app.desk import ViewName
from app.look.look import Look
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

    def close_views(self) -> None:
        """Let go of everything that draws; nothing is drawn after this."""
        ...


@dataclass(frozen=True)
class Parts:
    """Makers of the parts of the window."""

    order_of_work: Maker
    step_panel: Maker
    details: Maker
    travel_strip: Maker
    gauges: Maker
    views: Callable[[Session, Selection, Look], CarViewsLike]


def real_parts() -> Parts:
    """The parts of the program; imports what draws, which takes a second or more."""
    from app.panels.details import Details  # noqa: PLC0415 - see the docstring
    from app.panels.gauges import Gauges  # noqa: PLC0415
    from app.panels.order_of_work import OrderOfWork  # noqa: PLC0415
    from app.panels.travel import TravelStrip  # noqa: PLC0415
    from app.right_panel import right_panel  # noqa: PLC0415
    from app.scene.views import CarViews  # noqa: PLC0415

    return Parts(OrderOfWork, right_panel, Details, TravelStrip, Gauges, CarViews)
