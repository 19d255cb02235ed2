"""Writes a table as comma-separated text or as a spreadsheet workbook."""

import csv
import io
from collections.abc import Iterable, Iterator, Mapping
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import Final, Protocol, cast

import xlsxwriter

from core.document.atomic import replace_file
from core.workshop.table import Cell, Column, Table, TableError

__all__ = ["TableFileError", "csv_bytes", "replace_file", "write_table", "xlsx_bytes"]

NOT_KNOWN: Final = "don't know"

# A spreadsheet takes a cell that begins so for a formula, also after white space.
# Source: OWASP Foundation, "CSV Injection" (list from memory), with the full-width forms.
_FORMULA_STARTS: Final = tuple("=+-@\uff1d\uff0b\uff0d\uff20")
_NARROWEST, _WIDEST = 8, 48  # column width in characters; common practice, no source


class _Sheet(Protocol):
    """What is used of a sheet of xlsxwriter, which comes without types."""

    def write_string(self, row: int, col: int, string: str, cell_format: object = None) -> int: ...
    def write_number(self, row: int, col: int, number: float, cell_format: object) -> int: ...
    def freeze_panes(self, row: int, col: int) -> None: ...
    def set_column(self, first_col: int, last_col: int, width: float) -> int: ...


class _Workbook(Protocol):
    """What is used of a workbook of xlsxwriter, which comes without types."""

    def add_worksheet(self, name: str) -> _Sheet: ...
    def add_format(self, properties: Mapping[str, object]) -> object: ...
    def set_properties(self, properties: Mapping[str, object]) -> None: ...
    def close(self) -> None: ...


class TableFileError(Exception):
    """A table could not be written to a file; says why and what to do."""


def csv_bytes(table: Table) -> bytes:
    r"""Return the table as comma-separated text, UTF-8 without a mark, lines ended by CR LF.

    Title, facts as label and value, an empty line, headings, rows, an empty line, notes; every
    line has the same number of fields. Text that a spreadsheet would take for a formula gets an
    apostrophe in front. What is not known is written in words.

    Source:
        Form of lines and quotes: Y. Shafranovich, RFC 4180, 2005, section 2.
    """
    width = max(len(table.columns), 2)
    stream = io.StringIO(newline="")
    writer = csv.writer(stream, lineterminator="\r\n")
    for line in _csv_lines(table):
        writer.writerow([*line, *[""] * (width - len(line))])
    return stream.getvalue().encode("utf-8")


def _csv_lines(table: Table) -> Iterator[list[str]]:
    yield [_guarded(table.title)]
    for label, value in table.facts:
        yield [_guarded(label), _guarded(value)]
    yield []
    yield [_guarded(column.heading) for column in table.columns]
    for row in table.rows:
        yield [_csv_cell(column, cell) for column, cell in zip(table.columns, row, strict=True)]
    if table.notes:
        yield []
    for note in table.notes:
        yield [_guarded(note)]


def _csv_cell(column: Column, cell: Cell) -> str:
    return _guarded(cell) if isinstance(cell, str) else _shown(column, cell)


def _guarded(text: str) -> str:
    risky = text.lstrip().startswith(_FORMULA_STARTS) or text.startswith(("\t", "\n"))
    return f"'{text}" if risky else text


def _shown(column: Column, cell: Cell) -> str:
    """Return a cell as it reads, with a plain minus and zero without a sign."""
    if cell is None:
        return NOT_KNOWN
    if isinstance(cell, str):
        return cell
    text = repr(float(cell)) if column.decimals is None else f"{cell:.{column.decimals}f}"
    return text.removeprefix("-") if float(text) == 0 else text


def xlsx_bytes(table: Table, created: date) -> bytes:
    """Return the table as a workbook of one sheet; the same table and date give the same bytes.

    Numbers stay numbers with their decimals as cell format; text is never taken for a formula
    or an address. The headings are bold and stay in view.

    Args:
        table: what to write.
        created: date of creation kept in the workbook.

    Raises:
        TableError: if the table is larger than a sheet.
    """
    stream = io.BytesIO()
    workbook = cast("_Workbook", xlsxwriter.Workbook(stream, {"in_memory": True}))
    midnight = datetime.combine(created, time(), UTC)
    workbook.set_properties({"title": table.title, "created": midnight})
    try:
        _fill_sheet(workbook, table)
    finally:
        workbook.close()
    return stream.getvalue()


def _fill_sheet(workbook: _Workbook, table: Table) -> None:
    sheet = workbook.add_worksheet("Table")
    bold = workbook.add_format({"bold": True})
    _write_texts(sheet, 0, [table.title], bold)
    for line, fact in enumerate(table.facts, start=1):
        _write_texts(sheet, line, fact, None)
    head = len(table.facts) + 2
    _write_texts(sheet, head, [column.heading for column in table.columns], bold)
    sheet.freeze_panes(head + 1, 0)
    for place, column in enumerate(table.columns):
        _write_column(workbook, sheet, table, place, head + 1)
        sheet.set_column(place, place, _column_width(table, place, column))
    for line, note in enumerate(table.notes, start=head + len(table.rows) + 2):
        _write_texts(sheet, line, [note], None)


def _write_texts(sheet: _Sheet, line: int, texts: Iterable[str], style: object) -> None:
    for place, text in enumerate(texts):
        _check_written(sheet.write_string(line, place, text, style), line)


def _write_column(
    workbook: _Workbook, sheet: _Sheet, table: Table, place: int, first_line: int
) -> None:
    column = table.columns[place]
    style = workbook.add_format({"num_format": _number_format(column)})
    for line, row in enumerate(table.rows, start=first_line):
        cell = row[place]
        if cell is None or isinstance(cell, str):
            code = sheet.write_string(line, place, _shown(column, cell))
        else:
            code = sheet.write_number(line, place, float(cell), style)
        _check_written(code, line)


def _number_format(column: Column) -> str:
    if column.decimals is None:
        return "General"
    return "0." + "0" * column.decimals if column.decimals else "0"


def _check_written(code: int, line: int) -> None:
    # xlsxwriter answers with a code below zero instead of raising.
    if code < 0:
        raise TableError(f"Line {line + 1} does not fit on a sheet; split the table.")


def _column_width(table: Table, place: int, column: Column) -> int:
    texts = [column.heading, *(_shown(column, row[place]) for row in table.rows)]
    longest = max(len(line) for text in texts for line in text.split("\n"))
    return min(max(longest + 2, _NARROWEST), _WIDEST)


def write_table(table: Table, path: Path, created: date) -> None:
    """Write the table to a file, by its ending; an existing file is replaced whole or not at all.

    Args:
        table: what to write.
        path: ends in .csv or .xlsx, in capitals or not.
        created: date of creation kept in a workbook.

    Raises:
        TableFileError: if the ending is another, or the file cannot be written.
        TableError: if the table is larger than a sheet.
    """
    ending = path.suffix.lower()
    if ending == ".csv":
        data = csv_bytes(table)
    elif ending == ".xlsx":
        data = xlsx_bytes(table, created)
    else:
        raise TableFileError(f"'{path.name}' must end in .csv or .xlsx; change its ending.")
    try:
        replace_file(path, lambda stream: stream.write(data))
    except OSError as error:
        raise TableFileError(
            f"'{path}' could not be written: {error.strerror or error}. "
            "The file is as it was; check the folder and whether another program holds the file."
        ) from error
