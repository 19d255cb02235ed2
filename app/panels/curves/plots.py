"""Plots side by side, one for each figure that is drawn; made anew only when others are."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QScrollArea

from app.look.look import Look
from app.panels.curves.figures import (
    FIGURES,
    Figure,
    band_of,
    series_of,
    stops_of,
    why_none,
)
from app.widgets.curve_plot import LEAST_HEIGHT, CurvePlot
from app.widgets.curve_row import CurveRow
from core.assess.axle_curves import AxleCurves
from core.assess.curves import Along

LEAST_AREA = 80.0
"""Height at scale 1 that the plots keep in the smallest window; below their own they scroll."""


class Plots(QScrollArea):
    """Room for plots that scrolls where there are many, or little room."""

    cursor_moved = Signal(float)
    """The hand put the cursor somewhere along, in any of them."""

    def __init__(self, look: Look) -> None:
        """Draw nothing yet."""
        super().__init__()
        self._look = look
        self.row: CurveRow | None = None
        self._shown: tuple[Along, tuple[str, ...]] | None = None
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.viewport().setAutoFillBackground(False)
        look.changed.connect(self._refit)
        self._refit()

    def _refit(self) -> None:
        self.setMinimumHeight(self._look.px(LEAST_AREA))
        if self.row is not None:
            self.row.setContentsMargins(self._look.px(8), 0, self._look.px(8), 0)

    @property
    def wanted_height(self) -> int:
        """Height for whole plots, with the bar that scrolls them sideways."""
        return self._look.px(LEAST_HEIGHT) + self.horizontalScrollBar().sizeHint().height()

    def tell(
        self, axle: AxleCurves, before: AxleCurves | None, along: Along, keys: tuple[str, ...]
    ) -> None:
        """Draw figures of an axle.

        Args:
            axle: as it is.
            before: as it was before the drag under way; None where none is.
            along: what it is drawn over.
            keys: of the figures, in order.
        """
        if self._shown != (along, keys) or self.row is None:
            self._make(along, keys)
        assert self.row is not None
        for key, plot in zip(keys, self.row.plots, strict=True):
            _tell(plot, FIGURES[key], along, (axle, before))

    def _make(self, along: Along, keys: tuple[str, ...]) -> None:
        self._shown = (along, keys)
        plots: list[CurvePlot] = []
        for key in keys:
            plots.append(CurvePlot(self._look, FIGURES[key].chart(along)))
            plots[-1].setToolTip(FIGURES[key].convention)
        old, self.row = self.row, CurveRow(self._look, plots)
        self.row.cursor_moved.connect(self.cursor_moved)
        if old is not None:
            self.takeWidget()
            old.deleteLater()
        self.setWidget(self.row)
        self.row.setAutoFillBackground(False)
        self._refit()
        self.row.show()

    def set_cursor(self, left: float, right: float | None = None) -> None:
        """Read every plot there; the right side elsewhere if it stands elsewhere."""
        if self.row is not None:
            self.row.set_cursor(left, right)


def _tell(
    plot: CurvePlot, figure: Figure, along: Along, axles: tuple[AxleCurves, AxleCurves | None]
) -> None:
    axle, before = axles
    band, stops = band_of(axle, figure, along), stops_of(axle, along)
    if band != plot.shown.band:
        plot.set_band(band)
    if stops != plot.shown.stops:
        plot.set_stops(stops)
    if before is not None:
        plot.set_before(series_of(before, figure))
    elif plot.shown.before:
        plot.clear_before()
    series = series_of(axle, figure)
    why = "" if series else why_none(axle, figure)
    plot.show_series(series, f"because {why}" if why else "")
