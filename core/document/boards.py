"""Toe read on the car with a board at the wheel, at several heights of the wheel."""

from typing import ClassVar

from core.document.base import CornerRef, Entity, Plain, positive


class ToeReading(Plain, frozen=True, kw_only=True):
    """Toe of one wheel, read with the wheel jacked to a height."""

    height: float  # of the wheel centre above the design position
    toe_in_deg: float


class ToeBoard(Entity, tag_field="kind", tag="toe_board", frozen=True, kw_only=True):
    """A round of readings at one wheel: toe with a board, wheel straight, at several heights."""

    may_be_pair: ClassVar[bool] = False

    corner: CornerRef
    instrument: str = ""
    uncertainty_deg: float | None = None  # standard, of one reading
    when: str = ""
    readings: tuple[ToeReading, ...] = ()

    def check(self) -> None:
        """Refuse readings without any doubt."""
        positive(f"toe board {self.name}", uncertainty_deg=self.uncertainty_deg)
