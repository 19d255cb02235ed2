"""One figure of the car worth knowing."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """One figure.

    Attributes:
        what: what it is.
        value: none where it is not known.
        unit: of the value.
        note: between what it is measured, what is taken for granted, or why it is not known.
    """

    what: str
    value: float | None
    unit: str = "mm"
    note: str = ""
