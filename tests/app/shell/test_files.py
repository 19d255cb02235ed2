"""Opening, saving, exporting: nothing is destroyed, and every refusal says what was kept."""

import csv
from pathlib import Path

import openpyxl
import pytest

from app.files import DEMO
from app.recent import RecentFiles
from app.table_ask import TableAsk, TableWish
from app.window import MainWindow
from core.document.base import Ref
from core.document.codec import read_project
from core.document.lookup import Lookup
from core.document.mesh_store import MeshStore
from core.document.steel import Datum
from core.edits.things import make, rename
from tests.app.shell.plain_parts import Answers


def change(window: MainWindow, name: str = "Another") -> None:
    car = window.session.state.document.cars[0].id
    window.session.apply("Call the car otherwise", lambda d: rename(d, car, name))


def answers(window: MainWindow) -> Answers:
    assert isinstance(window.asks, Answers)
    return window.asks


def test_the_demo_car_opens_as_a_copy_and_is_never_written_over(with_demo: MainWindow) -> None:
    before = DEMO.read_bytes()
    change(with_demo)

    answers(with_demo).path = DEMO
    assert not with_demo.files.save()

    assert DEMO.read_bytes() == before
    assert "another name" in with_demo.notices.words


def test_what_is_saved_opens_again_with_its_meshes(with_demo: MainWindow, tmp_path: Path) -> None:
    change(with_demo)
    answers(with_demo).path = tmp_path / "mine.jigplate"

    assert with_demo.files.save()

    path = tmp_path / "mine.jigplate"
    assert read_project(path) == with_demo.session.history.present
    assert not with_demo.session.is_changed
    meshes = dict(with_demo.session.meshes)
    assert with_demo.files.open_path(path)
    assert dict(with_demo.session.meshes) == meshes
    assert meshes


def test_saving_keeps_the_version_before(window: MainWindow, tmp_path: Path) -> None:
    path = tmp_path / "mine.jigplate"
    assert window.files.save_to(path)
    first = path.read_bytes()
    change(window)

    assert window.files.save()

    assert path.with_name("mine.jigplate.previous").read_bytes() == first


def test_a_damaged_file_is_refused_and_the_open_car_stays(
    window: MainWindow, tmp_path: Path
) -> None:
    path = tmp_path / "cut.jigplate"
    path.write_bytes(DEMO.read_bytes()[:4000])
    before = window.session.state

    answers(window).path = path
    assert not window.files.open()

    assert window.session.state is before
    assert "cut.jigplate" in window.notices.words
    assert "still open" in window.notices.words


def test_opening_another_car_asks_about_unsaved_work(window: MainWindow) -> None:
    change(window)
    answers(window).unsaved_answer = "keep"

    assert not window.files.new()

    assert window.session.state.document.cars[0].name == "Another"
    answers(window).unsaved_answer = "drop"
    assert window.files.new()
    assert window.session.state.document.cars[0].name == "Unnamed car"


def test_a_new_car_is_not_unsaved(window: MainWindow) -> None:
    assert window.files.new()

    assert not window.keeper.has_unsaved


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_the_hardpoint_table_holds_every_joint_of_the_car(
    with_demo: MainWindow, tmp_path: Path, ending: str
) -> None:
    path = tmp_path / f"points{ending}"
    answers(with_demo).path = path

    assert with_demo.files.export_hardpoints()

    if ending == ".csv":
        with path.open(newline="", encoding="utf-8") as file:
            cells = {cell for row in csv.reader(file) for cell in row}
    else:
        sheet = openpyxl.load_workbook(path).active
        assert sheet is not None
        cells = {str(cell) for row in sheet.iter_rows(values_only=True) for cell in row}
    assert {"K_L", "K_R"} <= cells
    assert "hardpoints written to points" in with_demo.notices.words


def test_a_table_that_cannot_be_written_says_so(window: MainWindow, tmp_path: Path) -> None:
    answers(window).path = tmp_path / "nowhere" / "points.csv"

    assert not window.files.export_hardpoints()

    assert "not written" in window.notices.words


def test_a_failed_save_offers_another_place(window: MainWindow, tmp_path: Path) -> None:
    change(window)
    (tmp_path / "nowhere").write_text("a file where the folder should be")
    assert not window.files.save_to(tmp_path / "nowhere" / "mine.jigplate")
    answers(window).path = tmp_path / "mine.jigplate"

    window.notices.go_on()

    assert (tmp_path / "mine.jigplate").exists()
    assert window.notices.words == "Saved to mine.jigplate."


def joints(window: MainWindow) -> tuple[Ref, ...]:
    lookup = Lookup(window.session.state.document)
    return tuple(lookup.find(name)[0] for name in ("K_L", "J_L", "K_R"))


def test_a_table_is_measured_from_the_datum_that_was_chosen(
    with_demo: MainWindow, tmp_path: Path
) -> None:
    points = dict(zip(("origin", "ahead", "aside"), joints(with_demo), strict=True))
    with_demo.session.apply("Make", lambda d: make(d, Datum, "bench", **points)[0])
    datum = with_demo.session.state.document.datums[0]
    answers(with_demo).wish = TableWish(Ref(datum.id), "in")
    answers(with_demo).path = tmp_path / "points.csv"

    assert with_demo.files.export_hardpoints()

    text = (tmp_path / "points.csv").read_text(encoding="utf-8-sig")
    assert f"Datum,{datum.name}" in text.replace('"', "")
    assert f"datum {datum.name}" in " ".join(answers(with_demo).asked)


def test_no_table_is_written_when_the_question_is_turned_down(with_demo: MainWindow) -> None:
    answers(with_demo).wish = None

    assert not with_demo.files.export_hardpoints()

    assert not any(asked.startswith("table") for asked in answers(with_demo).asked)


def test_the_question_offers_the_car_and_every_datum(window: MainWindow) -> None:
    ask = TableAsk(window.look, [("sill", Ref("datum1")), ("table", Ref("datum2"))], window)

    assert ask.wish() == TableWish(None, "mm")
    ask.datum.setCurrentIndex(2)
    ask.unit.setCurrentIndex(1)
    assert ask.wish() == TableWish(Ref("datum2"), "in")
    ask.deleteLater()


def test_saving_elsewhere_takes_the_meshes_along_and_says_which_are_missing(
    with_demo: MainWindow, tmp_path: Path
) -> None:
    first, second = tmp_path / "a" / "mine.jigplate", tmp_path / "b" / "mine.jigplate"
    for path in (first, second):
        path.parent.mkdir()
    assert with_demo.files.save_to(first)
    copied = sorted(file.name for file in MeshStore.beside(first).folder.iterdir())
    assert copied
    assert with_demo.notices.words == "Saved to mine.jigplate."

    (MeshStore.beside(first).folder / copied[0]).unlink()
    assert with_demo.files.save_to(second)

    assert "without one mesh" in with_demo.notices.words
    assert "mine.meshes" in with_demo.notices.words
    assert read_project(second) == with_demo.session.history.present


def test_files_opened_last_are_in_the_menu_and_open(window: MainWindow, tmp_path: Path) -> None:
    gone, there = tmp_path / "gone.jigplate", tmp_path / "there & here.jigplate"
    for path in (there, gone):
        assert window.files.save_to(path)
    gone.unlink()
    window.files.new()

    menu = window.findChild(RecentFiles)
    assert menu is not None
    menu.fill()
    rows = [(action.text(), action.isEnabled()) for action in menu.actions()]

    assert rows == [
        ("gone.jigplate: not there any more", False),
        ("there && here.jigplate", True),
    ]
    menu.actions()[1].trigger()
    assert window.session.path == there.resolve()


def test_the_menu_of_files_says_when_there_are_none(window: MainWindow) -> None:
    menu = window.findChild(RecentFiles)
    assert menu is not None

    assert [(a.text(), a.isEnabled()) for a in menu.actions()] == [("None yet", False)]
