"""The tables: kinds, search, order, and choosing by rows."""

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QTableView

from app.panels.things import Things
from app.panels.things.table import EVERYTHING, rows_of
from app.selection import Selection
from app.session import Session
from core.document.base import Ref, Vec3
from core.document.donors import DonorLink, DonorPoint
from core.document.lookup import entities
from core.edits.points import move_point
from core.edits.things import rename
from tests.app.things.conftest import DEMO, SECOND
from tests.app.things.form_filling import fill_part
from tests.app.things.hands import click, named


def row_at(table: QTableView, number: int) -> QPoint:
    return table.visualRect(table.model().index(number, 0)).center()


@pytest.mark.parametrize("car", [None, DEMO, SECOND], ids=["empty", "demo car", "second car"])
def test_everything_is_listed_with_its_kind(session: Session, things: Things, car: object) -> None:
    if car is not None:
        session.open(car, as_copy=True)  # type: ignore[arg-type]

    assert things.kind == EVERYTHING
    listed = [row.thing.id for row in things.model.rows]
    assert listed == [t.id for t in entities(session.state.document)]


def test_words_that_are_typed_narrow_the_rows(demo: Session, things: Things) -> None:
    QTest.keyClicks(things.search, "roof rail")

    names = [row.cells[0] for row in things.model.rows]
    assert "M03_roof_rail" in names
    assert len(names) < len(rows_of(demo.state.document, EVERYTHING))
    QTest.keyClicks(things.search, " zzz")
    assert things.model.rows == []
    assert things.none.isVisible()
    assert not things.table.isVisible()


def test_a_kind_without_things_says_so(things: Things) -> None:
    things.show_kind("points")

    assert things.none.text() == "There is none of these yet."
    assert things.make.text() == "New point…"


def test_a_row_that_is_clicked_is_chosen_everywhere(
    demo: Session, things: Things, selection: Selection
) -> None:
    things.show_kind("tubes")

    QTest.mouseClick(
        things.table.viewport(), Qt.MouseButton.LeftButton, pos=row_at(things.table, 1)
    )
    QTest.mouseClick(
        things.table.viewport(),
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.ControlModifier,
        row_at(things.table, 2),
    )

    tubes = demo.state.document.tubes
    assert selection.refs == (Ref(tubes[1].id), Ref(tubes[2].id, "left"))


def test_what_is_chosen_elsewhere_is_shown_and_keeps_its_side(
    demo: Session, things: Things, selection: Selection
) -> None:
    things.show_kind("points")

    selection.choose(Ref("point2", "right"))

    rows = things.table.selectionModel().selectedRows()
    assert [things.model.rows[i.row()].thing.id for i in rows] == ["point2"]
    assert selection.refs == (Ref("point2", "right"),)
    assert not demo.history.can_undo


def test_cells_follow_the_car(demo: Session, things: Things) -> None:
    things.show_kind("points")
    demo.apply("Move", lambda d: move_point(d, Ref("point1", "left"), Vec3(1.0, 2.0, 3.0)))
    demo.apply("Call", lambda d: rename(d, "point1", "first"))

    row = things.model.rows[0]
    assert row.cells[:5] == ("first", "left and right", "1.0 mm", "2.0 mm", "3.0 mm")


def test_a_column_is_put_in_order_by_size(demo: Session, things: Things) -> None:
    things.show_kind("points")
    column = things.model.heads.index("x ahead")

    things.table.horizontalHeader().setSortIndicator(column, Qt.SortOrder.AscendingOrder)

    xs = [
        float(row.cells[column].removesuffix(" mm").replace("\u2212", "-"))
        for row in things.model.rows
        if row.cells[column]
    ]
    assert xs == sorted(xs)
    assert len(xs) > 10
    assert demo.state


def test_looking_for_words_searches_every_kind(demo: Session, things: Things) -> None:
    things.show_kind("tubes")

    things.look_for("front corner")

    assert named(demo, "front corner").id in {row.thing.id for row in things.model.rows}


def test_escape_leaves_the_form(session: Session, things: Things) -> None:
    before = session.state
    things.begin("points")
    assert things.form is not None

    QTest.keyClick(things.form, Qt.Key.Key_Escape)

    assert things.form is None
    assert session.state is before


def test_a_donors_links_are_told_from_the_names_of_its_points(
    session: Session, things: Things
) -> None:
    at = Vec3(110.0, -340.0, -60.0)
    points = (
        DonorPoint(role="tie_inner", at=at, on="rack"),
        DonorPoint(role="tie_outer", at=Vec3(120.0, -80.0, -58.0), on="upright"),
        DonorPoint(role="strut_top", at=Vec3(0.0, -150.0, 400.0), on="chassis"),
    )
    things.begin("donor_corners")
    assert things.form is not None

    values: dict[str, object] = {"end": "front", "side": "left", "points": points}
    fill_part(session, things.form.values, values)
    click(things.form.make)

    (donor,) = session.state.document.donor_corners
    assert donor.points == points
    assert donor.links == (DonorLink(name="tie", inner="tie_inner", outer="tie_outer"),)
    session.undo()
    assert session.state.document.donor_corners == ()
