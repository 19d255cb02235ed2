"""Tables read back from their files by libraries other than the one that wrote them."""

import csv
import io
import os
import zipfile
from datetime import UTC, date, datetime
from pathlib import Path
from typing import BinaryIO

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.worksheet.worksheet import Worksheet

from core.workshop.files import (
    TableFileError,
    csv_bytes,
    replace_file,
    write_table,
    xlsx_bytes,
)
from core.workshop.table import LONGEST_TEXT, Cell, Column, Table, TableError

DAY = date(2031, 5, 17)
FORMULAS = ["=1+1", "+1", "-1", "@SUM(A1)", " =1+1", "\t=1+1", "\n=1", "\uff1d1+1"]

TUBES = Table(
    title="Tubes to cut",
    facts=(("Car", "Heron, the first"), ("Units", "mm"), ("Axes", "x forward, y left, z up")),
    columns=(
        Column("Tube", "", "text"),
        Column("Length", "mm", "number", 1),
        Column("Mass", "kg", "number", 3),
        Column("Share", "", "number"),
    ),
    rows=(
        ("Sill, left", 1234.56, 2.5, 1 / 3),
        ('Main "hoop"', -0.04, None, 1e-7),
        ("Brace\nbehind", 12, 0.25, -2.0),
    ),
    notes=("Lengths are finished lengths.", "Measure again before cutting."),
)


def lines_of(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))


def sheet_of(data: bytes) -> Worksheet:
    sheet = openpyxl.load_workbook(io.BytesIO(data)).active
    assert isinstance(sheet, Worksheet)
    return sheet


def one_cell(text: str, cell: Cell, kind: str = "text") -> Table:
    column = Column(text, "", "text" if kind == "text" else "number")
    return Table(text, ((text, text),), (column,), ((cell,),), (text,))


def test_a_csv_holds_facts_headings_rows_and_notes_in_lines_of_one_width() -> None:
    assert lines_of(csv_bytes(TUBES)) == [
        ["Tubes to cut", "", "", ""],
        ["Car", "Heron, the first", "", ""],
        ["Units", "mm", "", ""],
        ["Axes", "x forward, y left, z up", "", ""],
        ["", "", "", ""],
        ["Tube", "Length (mm)", "Mass (kg)", "Share"],
        ["Sill, left", "1234.6", "2.500", "0.3333333333333333"],
        ['Main "hoop"', "0.0", "don't know", "1e-07"],
        ["Brace\nbehind", "12.0", "0.250", "-2.0"],
        ["", "", "", ""],
        ["Lengths are finished lengths.", "", "", ""],
        ["Measure again before cutting.", "", "", ""],
    ]


def test_a_csv_has_the_form_of_the_standard() -> None:
    # Y. Shafranovich, RFC 4180, 2005, section 2: lines end in CR LF (rule 1), each with the same
    # number of fields (4), a field with comma, quote or line end quoted (6), quotes doubled (7).
    data = csv_bytes(TUBES)

    assert not data.startswith(b"\xef\xbb\xbf")
    assert data.endswith(b"\r\n")
    assert data.count(b"\r\n") == 12
    assert b'\r\n"Sill, left",1234.6,2.500,' in data
    assert b'\r\n"Main ""hoop""",0.0,' in data
    assert b'"Brace\nbehind"' in data
    assert {len(line) for line in lines_of(data)} == {4}


@pytest.mark.parametrize("text", FORMULAS)
def test_no_text_in_a_csv_begins_like_a_formula(text: str) -> None:
    fields = [field for line in lines_of(csv_bytes(one_cell(text, text))) for field in line]

    assert [field for field in fields if field] == [f"'{text}"] * 6


def test_a_negative_number_in_a_csv_stays_a_number() -> None:
    assert lines_of(csv_bytes(one_cell("Toe", -1.5, "number")))[4] == ["-1.5", ""]


def test_a_workbook_holds_facts_headings_rows_and_notes() -> None:
    sheet = sheet_of(xlsx_bytes(TUBES, DAY))

    assert [list(row) for row in sheet.iter_rows(values_only=True)] == [
        ["Tubes to cut", None, None, None],
        ["Car", "Heron, the first", None, None],
        ["Units", "mm", None, None],
        ["Axes", "x forward, y left, z up", None, None],
        [None, None, None, None],
        ["Tube", "Length (mm)", "Mass (kg)", "Share"],
        ["Sill, left", 1234.56, 2.5, pytest.approx(1 / 3, rel=1e-15)],
        ['Main "hoop"', -0.04, "don't know", 1e-7],
        ["Brace\nbehind", 12, 0.25, -2],
        [None, None, None, None],
        ["Lengths are finished lengths.", None, None, None],
        ["Measure again before cutting.", None, None, None],
    ]


def test_a_workbook_shows_numbers_with_their_decimals_and_keeps_its_head_in_view() -> None:
    sheet = sheet_of(xlsx_bytes(TUBES, DAY))

    assert [sheet.cell(7, place).number_format for place in (2, 3, 4)] == [
        "0.0",
        "0.000",
        "General",
    ]
    assert [sheet.cell(6, place).font.b for place in (1, 2, 3, 4)] == [True] * 4
    assert not sheet.cell(7, 1).font.b
    assert sheet.freeze_panes == "A7"
    assert sheet.column_dimensions["A"].width >= len('Main "hoop"')
    assert sheet.column_dimensions["B"].width >= len("Length (mm)")


@pytest.mark.parametrize("text", [*FORMULAS, "https://a.example", "007", "_x0041_", " a "])
def test_text_in_a_workbook_stays_the_text_it_is(text: str) -> None:
    data = xlsx_bytes(one_cell(text, text), DAY)

    cells = [cell for row in sheet_of(data).iter_rows() for cell in row if cell.value is not None]
    assert [(cell.value, cell.data_type) for cell in cells] == [(text, "s")] * 6
    assert all(cell.hyperlink is None for cell in cells)


def test_a_workbook_carries_the_day_it_is_given_and_no_clock() -> None:
    data = xlsx_bytes(TUBES, DAY)

    properties = openpyxl.load_workbook(io.BytesIO(data)).properties
    assert properties.title == "Tubes to cut"
    assert properties.created == datetime(2031, 5, 17, tzinfo=UTC).replace(tzinfo=None)
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        # 1980 is the first year a zip archive can hold: no time of writing.
        assert {entry.date_time[0] for entry in archive.infolist()} == {1980}


def test_the_same_table_gives_the_same_bytes_and_another_day_others() -> None:
    assert csv_bytes(TUBES) == csv_bytes(TUBES)
    assert xlsx_bytes(TUBES, DAY) == xlsx_bytes(TUBES, DAY)
    assert xlsx_bytes(TUBES, DAY) != xlsx_bytes(TUBES, date(2031, 5, 18))


plain_text = st.text(
    st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Cn"]), min_size=1, max_size=30
).filter(lambda text: bool(text.strip()))


# Up to 1e300: nearer the largest float the sixteen figures of a workbook may round past it.
@given(plain_text, st.floats(min_value=-1e300, max_value=1e300) | st.none())
def test_any_text_and_any_finite_number_is_read_back(text: str, value: float | None) -> None:
    columns = (Column("Name", "", "text"), Column("Value", "", "number"))
    table = Table("Things", (), columns, ((text, value),))

    name, shown = lines_of(csv_bytes(table))[3]
    row = list(sheet_of(xlsx_bytes(table, DAY)).iter_rows(values_only=True))[3]

    assert name in {text, f"'{text}"}
    assert row[0] == text
    if value is None:
        assert (shown, row[1]) == ("don't know", "don't know")
    else:
        assert float(shown) == value
        # The writer puts sixteen figures into a workbook.
        assert row[1] == pytest.approx(value, rel=1e-15, abs=1e-300)


@pytest.mark.parametrize("name", ["tubes.csv", "tubes.XLSX"])
def test_a_table_is_written_by_the_ending_of_the_name(tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    path.write_bytes(b"older")

    write_table(TUBES, path, DAY)

    expected = csv_bytes(TUBES) if name.endswith("csv") else xlsx_bytes(TUBES, DAY)
    assert path.read_bytes() == expected
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("name", ["tubes.ods", "tubes", "tubes.csv.bak"])
def test_another_ending_is_refused_with_the_two_that_serve(tmp_path: Path, name: str) -> None:
    with pytest.raises(TableFileError, match=r"must end in \.csv or \.xlsx"):
        write_table(TUBES, tmp_path / name, DAY)

    assert list(tmp_path.iterdir()) == []


def test_a_missing_folder_is_told_in_words(tmp_path: Path) -> None:
    with pytest.raises(TableFileError, match="could not be written") as caught:
        write_table(TUBES, tmp_path / "nowhere" / "tubes.csv", DAY)

    assert isinstance(caught.value.__cause__, OSError)


def test_a_folder_of_that_name_is_told_in_words_and_stays(tmp_path: Path) -> None:
    path = tmp_path / "tubes.csv"
    path.mkdir()

    with pytest.raises(TableFileError, match="could not be written"):
        write_table(TUBES, path, DAY)

    assert list(tmp_path.iterdir()) == [path]


def test_a_write_that_fails_half_way_leaves_the_old_file_and_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "tubes.csv"
    path.write_bytes(b"older")

    def fail_half_way(stream: BinaryIO) -> None:
        stream.write(b"new")
        stream.flush()
        raise OSError(28, "No space left on device")

    with pytest.raises(OSError, match="No space left"):
        replace_file(path, fail_half_way)

    assert path.read_bytes() == b"older"
    assert list(tmp_path.iterdir()) == [path]


def test_the_old_file_is_whole_until_the_new_one_is(tmp_path: Path) -> None:
    path = tmp_path / "tubes.csv"
    path.write_bytes(b"older")
    seen: list[bytes] = []

    def look_while_writing(stream: BinaryIO) -> None:
        stream.write(b"newer")
        stream.flush()
        seen.append(path.read_bytes())

    replace_file(path, look_while_writing)

    assert seen == [b"older"]
    assert path.read_bytes() == b"newer"


@pytest.mark.skipif(os.name == "nt", reason="permissions and links are those of Unix")
def test_a_replaced_file_keeps_its_permissions_and_a_link_its_target(tmp_path: Path) -> None:
    path, link = tmp_path / "tubes.csv", tmp_path / "latest.csv"
    path.write_bytes(b"older")
    path.chmod(0o640)
    link.symlink_to(path)

    write_table(TUBES, link, DAY)

    assert link.is_symlink()
    assert path.read_bytes() == csv_bytes(TUBES)
    assert path.stat().st_mode & 0o777 == 0o640


NUMBER = Column("Length", "mm", "number", 1)
TEXT = Column("Tube", "", "text")


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (("A",), "Row 1 of 'Tubes' has 1 cells for 2 columns"),
        (("A", 1.0, 2.0), "Row 1 of 'Tubes' has 3 cells for 2 columns"),
        (("A", float("nan")), "Row 1, column 'Length', is nan; give None"),
        (("A", float("-inf")), "Row 1, column 'Length', is -inf; give None"),
        (("A", "12"), "Row 1, column 'Length', must be a number or None"),
        (("A", True), "Row 1, column 'Length', must be a number"),
        ((1.0, 1.0), "Row 1, column 'Tube', must be text"),
        (("A\x07", 1.0), r"Row 1, column 'Tube', holds the character U\+0007"),
        (("A\ud800", 1.0), r"U\+D800"),
        (("A\uffff", 1.0), r"U\+FFFF"),
        (("A" * (LONGEST_TEXT + 1), 1.0), "shorten the text"),
    ],
)
def test_a_row_that_does_not_fit_is_refused_with_its_place(
    row: tuple[Cell, ...], words: str
) -> None:
    with pytest.raises(TableError, match=words):
        Table("Tubes", (), (TEXT, NUMBER), (row,))


def test_a_table_needs_a_title_and_a_column_and_writable_heads() -> None:
    with pytest.raises(TableError, match="no title"):
        Table(" ", (), (TEXT,), ())
    with pytest.raises(TableError, match="no columns"):
        Table("Tubes", (), (), ())
    with pytest.raises(TableError, match="The head or the notes"):
        Table("Tubes", (("Car", "\x00"),), (TEXT,), ())


def test_a_column_needs_a_heading_and_decimals_that_fit() -> None:
    with pytest.raises(TableError, match="no heading"):
        Column("", "mm", "number")
    with pytest.raises(TableError, match="leave its decimals out"):
        Column("Tube", "", "text", 1)
    with pytest.raises(TableError, match="must be 0 to 12"):
        Column("Length", "mm", "number", -1)


def test_a_table_without_rows_is_written_with_its_headings() -> None:
    empty = Table("Tubes", (), (TEXT, NUMBER), ())

    assert lines_of(csv_bytes(empty)) == [["Tubes", ""], ["", ""], ["Tube", "Length (mm)"]]
    assert sheet_of(xlsx_bytes(empty, DAY)).max_row == 3


def test_a_table_longer_than_a_sheet_is_refused_as_a_workbook() -> None:
    # ECMA-376 workbooks as common programs read them: 1 048 576 rows, 16 384 columns.
    wide = Table("Wide", (), (NUMBER,) * 16_385, ((1.0,) * 16_385,))

    with pytest.raises(TableError, match="does not fit on a sheet"):
        xlsx_bytes(wide, DAY)
