"""Curves taken out of the program: asked where to, written, and told how it went."""

from collections.abc import Callable
from pathlib import Path

from app.asks import Asks
from app.look.tokens import ColourName
from app.panels.curves.export import table_text
from app.panels.curves.head import ALONG, ENDS
from app.recovery import car_name
from app.session import Session
from app.widgets.asking import ask
from app.widgets.curve_row import CurveRow
from core.assess.axle_curves import AxleCurves, curves_of_axle
from core.assess.curves import Along
from core.document.atomic import replace_file
from core.engine.cells import NotComputedError

Say = Callable[[str, ColourName], None]


class CurveFiles:
    """Tables and pictures of the curves; what could not be written is said where it was asked."""

    def __init__(self, session: Session, asks: Asks, say: Say) -> None:
        """Write for a session."""
        self._session, self.asks, self._say = session, asks, say

    def write_table(self, end: str) -> None:
        """Ask for a file and write every figure of an axle over travel and steer."""
        text = table_text(self._sheets(end))
        if not text:
            self._say("No curve is known that could be written.", "no")
            return
        path = self.asks.curves_file(self._suggested(end, ".csv"))
        if path is None:
            return
        try:
            replace_file(path, lambda stream: stream.write(text.encode("utf-8")))
        except OSError as error:
            self._refuse(path, error)
        else:
            lines = len(text.splitlines()) - 1
            self._say(f"{lines} positions over travel and steer written to {path.name}.", "ink2")

    def _sheets(self, end: str) -> dict[Along, AxleCurves]:
        found: dict[Along, AxleCurves] = {}
        for along in ALONG:
            try:
                found[along] = ask(self._session.state, curves_of_axle, end, along, "springs")
            except NotComputedError:
                continue
        return found

    def write_picture(self, row: CurveRow, end: str, along: Along) -> None:
        """Ask for a file and write what is drawn."""
        path = self.asks.picture_file(self._suggested(end, ".png"))
        if path is None:
            return
        car = car_name(self._session.history.present)
        try:
            row.picture(path, f"{car} · {ENDS[end].casefold()} axle {ALONG[along]}")
        except (OSError, ValueError) as error:
            self._refuse(path, error)
        else:
            self._say(f"What is drawn was written to {path.name}.", "ink2")

    def _refuse(self, path: Path, error: Exception) -> None:
        told = error.strerror if isinstance(error, OSError) else None
        self._say(f"{path.name} was not written: {str(told or error).rstrip('.')}.", "no")

    def _suggested(self, end: str, ending: str) -> Path:
        path = self._session.path
        folder = Path.home() if path is None else path.parent
        return folder / f"{end}-curves{ending}"
