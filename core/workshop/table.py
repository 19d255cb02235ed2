"""A table for the workshop as plain data, before it is written to any file."""

import math
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

Cell = str | float | None

LONGEST_TEXT: Final = 32_767  # characters a spreadsheet cell can hold (ECMA-376 workbooks)
MOST_DECIMALS: Final = 12


class TableError(ValueError):
    """A table holds something that cannot be written down truly; says what and where."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    Attributes:
        title: heading.
        unit: unit of its numbers, such as "mm"; empty if there is none.
        kind: whether its cells are text or numbers.
        decimals: digits shown after the point; None shows what the number has. None for text.

    Raises:
        TableError: if the heading is empty, or the decimals do not fit the kind.
    """

    title: str
    unit: str
    kind: Literal["text", "number"]
    decimals: int | None = None

    def __post_init__(self) -> None:
        """Check the heading and the decimals."""
        if not self.title.strip():
            raise TableError("A column has no heading; give it one.")
        if self.kind not in ("text", "number"):
            raise TableError(f"Column '{self.title}' must be of kind 'text' or 'number'.")
        if self.decimals is None:
            return
        if self.kind == "text":
            raise TableError(f"Column '{self.title}' holds text; leave its decimals out.")
        if not 0 <= self.decimals <= MOST_DECIMALS:
            raise TableError(f"Decimals of column '{self.title}' must be 0 to {MOST_DECIMALS}.")

    @property
    def heading(self) -> str:
        """Return the heading with the unit in brackets, such as "Length (mm)"."""
        return f"{self.title} ({self.unit})" if self.unit else self.title


@dataclass(frozen=True, slots=True)
class Table:
    """A titled table with facts above it and notes below it.

    Attributes:
        title: what the table is.
        facts: head lines as label and value, such as car, version, units, axes, date.
        columns: at least one.
        rows: a cell a column; None means that the value is not known.
        notes: sentences below the table, such as a caution.

    Raises:
        TableError: if a row has too many or too few cells, a cell does not fit its column, a
            number is not finite, or a text cannot be written to a file.
    """

    title: str
    facts: tuple[tuple[str, str], ...]
    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    notes: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        """Check every text and every cell."""
        if not self.title.strip():
            raise TableError("The table has no title; give it one.")
        if not self.columns:
            raise TableError(f"Table '{self.title}' has no columns; give it at least one.")
        for text in self._texts_around_cells():
            _check_text(text, "The head or the notes")
        for index, row in enumerate(self.rows, start=1):
            self._check_row(row, index)

    def _texts_around_cells(self) -> Iterator[str]:
        yield self.title
        for label, value in self.facts:
            yield label
            yield value
        for column in self.columns:
            yield column.heading
        yield from self.notes

    def _check_row(self, row: tuple[Cell, ...], index: int) -> None:
        if len(row) != len(self.columns):
            raise TableError(
                f"Row {index} of '{self.title}' has {len(row)} cells "
                f"for {len(self.columns)} columns; give one cell a column."
            )
        for column, cell in zip(self.columns, row, strict=True):
            _check_cell(column, cell, f"Row {index}, column '{column.title}',")


def _check_cell(column: Column, cell: Cell, place: str) -> None:
    if cell is None:
        return
    if isinstance(cell, str):
        if column.kind == "number":
            raise TableError(f"{place} must be a number or None, not text.")
        _check_text(cell, place)
        return
    if column.kind == "text" or isinstance(cell, bool):
        raise TableError(f"{place} must be {'text' if column.kind == 'text' else 'a number'}.")
    if not math.isfinite(cell):
        raise TableError(f"{place} is {cell}; give None for what is not known.")


def _check_text(text: str, place: str) -> None:
    if len(text) > LONGEST_TEXT:
        raise TableError(f"{place} has more than {LONGEST_TEXT} characters; shorten the text.")
    for character in text:
        if _is_unwritable(character):
            raise TableError(
                f"{place} holds the character U+{ord(character):04X}, "
                "which files cannot carry; take it out."
            )


def _is_unwritable(character: str) -> bool:
    """Return whether it is a control character or half of a pair, or no character at all."""
    if character in "\n\t":
        return False
    return unicodedata.category(character) in ("Cc", "Cs") or ord(character) & 0xFFFE == 0xFFFE
