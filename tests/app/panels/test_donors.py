"""Donor corners in the panel and in their table, by real mouse and keys."""

import csv
import io
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from app.asks import Asks
from app.look.look import Look
from app.panels.donors import DonorComparison, DonorsPanel
from app.panels.donors.panel import COMPARISON
from app.panels.step import StepPanel
from app.selection import Selection
from app.session import Session
from app.trial import Trial
from core.assess.places import place
from core.document.base import Ref, Vec3
from core.document.donors import DonorCorner, usual_links
from core.document.project import Document
from core.document.running_gear import Corner, Tyre, Wheel
from core.edits.deletions import delete
from core.edits.things import make
from core.engine.assess import compute
from core.engine.finding import Finding
from tests.app.panels.conftest import Show
from tests.core.edits.cars import demo_car, second_car
from tests.core.edits.donors import corner_at, measured

LEFT = Qt.MouseButton.LeftButton
Edit = Callable[[Document], Document]


def putting(donor: DonorCorner) -> Edit:
    fields = {f: getattr(donor, f) for f in donor.__struct_fields__ if f not in ("id", "name")}
    return lambda document: make(document, DonorCorner, donor.name, **fields)[0]


def put(session: Session, donor: DonorCorner) -> Ref:
    session.apply("a donor", putting(donor))
    return Ref(session.state.document.donor_corners[-1].id)


def own_things(session: Session) -> None:
    """Nothing but a tyre and a wheel of this car, and a donor."""
    session.apply(
        "t", lambda d: make(d, Tyre, "own tyre", size="195/65R15", loaded_radius=300.0)[0]
    )
    size = {"rim_width_in": 6.0, "rim_in": 15.0, "offset": 41.0}
    session.apply("w", lambda d: make(d, Wheel, "own wheel", **size)[0])
    put(session, measured(demo_car(), "front", name="hatchback"))


class Donors:
    """The panel, opened, and hands on it."""

    def __init__(self, panel: DonorsPanel) -> None:
        self.panel = panel
        self.form, self.fields = panel.form, panel.form.fields
        panel.activateWindow()
        QTest.qWaitForWindowActive(panel)
        QTest.mouseClick(panel.fold.line, LEFT)
        QTest.qWait(20)  # what is laid out anew is shown by the loop

    def line(self, name: str) -> QLineEdit:
        found = self.fields.fields[name].findChildren(QLineEdit)
        return found[0]

    def type(self, name: str, text: str) -> None:
        line = self.line(name)
        line.setFocus()
        line.selectAll()
        QTest.keyClicks(line, text)
        QTest.keyClick(line, Qt.Key.Key_Tab)

    def name(self, field: str, text: str) -> None:
        """Type a name and take it from the list that drops down."""
        line = self.line(field)
        line.setFocus()
        QTest.keyClicks(line, text)
        popup = line.completer().popup()
        assert popup is not None
        QTest.keyClick(popup, Qt.Key.Key_Down)
        QTest.keyClick(popup, Qt.Key.Key_Return)

    def pick(self, box: QWidget, downs: int) -> None:
        """Go down a list by the arrow keys, from its top."""
        box.setFocus()
        QTest.keyClick(box, Qt.Key.Key_Home)
        for _ in range(downs):
            QTest.keyClick(box, Qt.Key.Key_Down)

    @property
    def said(self) -> str:
        return " ".join((self.form.sentence.text, *self.form.warned.sentences))


@pytest.fixture
def opened(session: Session, selection: Selection, look: Look, show: Show) -> Callable[[], Donors]:
    def made() -> Donors:
        panel = DonorsPanel(session, selection, look, driven=False)
        show(panel, 316, 1100)
        return Donors(panel)

    return made


Opened = Callable[[], Donors]


def test_an_empty_car_has_one_line_until_it_is_opened_and_then_says_what_to_measure(
    session: Session, selection: Selection, look: Look, show: Show, qtbot: QtBot
) -> None:
    panel = DonorsPanel(session, selection, look)
    show(panel, 316, 500)
    assert panel.fold.line.text() == "Donor corners: none measured"
    assert not panel.lead.isVisible()

    donors = Donors(panel)

    assert panel.lead.isVisible()
    assert "from its hub face" in panel.lead.text()
    assert not panel.compare.isVisible()
    assert not donors.form.isVisible()
    with qtbot.waitSignal(selection.make_wanted) as wanted:
        QTest.mouseClick(panel.make, LEFT)
    assert wanted.args == ["donor_corners"]


def test_it_stands_with_the_links_of_both_ends(
    demo: Session, selection: Selection, look: Look, show: Show, right: StepPanel
) -> None:
    del demo, look, show
    panels = right.findChildren(DonorsPanel)
    assert [panel.end for panel in panels] == ["rear", "front"]

    right.go_to_part("links")
    assert [panel.isVisible() for panel in panels] == [True, False]
    selection.go_to("front")
    assert [panel.isVisible() for panel in panels] == [False, True]
    selection.go_to("frame")
    assert [panel.isVisible() for panel in panels] == [False, False]


def test_what_is_still_to_be_given_is_said(session: Session, opened: Opened) -> None:
    own_things(session)

    donors = opened()

    assert donors.said == "Still to be given: x ahead, outboard."
    assert donors.line("donor").text() == "hatchback"
    assert donors.line("tyre").text() == "own tyre"
    assert donors.line("wheel").text() == "own wheel"
    assert donors.line("name").text() == "front corner"
    before = session.state
    QTest.mouseClick(donors.form.carry, LEFT)
    assert session.state is before


def test_it_comes_over_by_keys_as_one_step_of_undo_and_the_view_goes_there(
    session: Session, selection: Selection, opened: Opened
) -> None:
    own_things(session)
    donors, before = opened(), session.state.document
    gone_to: list[Finding] = []
    selection.looked_at.connect(gone_to.append)
    donors.type("name", "my front")
    donors.type("x", "100 mm - 1 in")
    donors.type("outboard", "0.69 m")

    line = donors.line("outboard")
    line.setFocus()
    QTest.keyClick(line, Qt.Key.Key_Return)

    after = session.state.document
    (corner,) = after.corners
    # Common sums: 100 mm less one inch of 25.4; hub height = loaded radius + offset * spin z.
    camber = after.donor_corners[0].camber_deg
    assert camber == pytest.approx(0.0, abs=1e-9)
    assert corner.upright.hub_face == pytest.approx((74.6, 690.0, 300.0), abs=1e-9)
    assert (corner.name, corner.pair, corner.tyre) == ("my front", True, Ref(after.tyres[0].id))
    assert selection.refs == (Ref(corner.id, "left"),)
    assert [(f.place, f.subjects) for f in gone_to] == [
        (corner.upright.hub_face, (Ref(corner.id, "left"),))
    ]
    assert donors.said == "It is in the car. Undo takes it back."
    session.undo()
    assert session.state.document == before
    assert "It is in the car" not in donors.said


def test_points_keep_their_places_from_the_hub(session: Session, opened: Opened) -> None:
    own_things(session)
    donors = opened()
    donors.type("x", "0")
    donors.type("outboard", "700")

    QTest.mouseClick(donors.form.carry, LEFT)

    document = session.state.document
    donor, face = document.donor_corners[0], document.corners[0].upright.hub_face
    there = {point.role: point.at for point in donor.points}
    for role in document.corners[0].points:
        at = compute(document, {}, place, role.point)
        assert at == pytest.approx([a + b for a, b in zip(there[role.role], face, strict=True)])


def test_a_place_may_be_that_of_the_wheel(session: Session, opened: Opened) -> None:
    own_things(session)
    donors = opened()
    donors.pick(donors.fields.by_hub, 1)
    assert donors.line("half track").isVisible()
    assert not donors.line("outboard").isVisible()
    donors.type("x", "0")
    donors.type("half track", "650")

    QTest.mouseClick(donors.form.carry, LEFT)

    # With an upright wheel the hub face is the offset, 41, outboard of the middle of the tyre.
    (corner,) = session.state.document.corners
    assert corner.upright.hub_face == pytest.approx((0.0, 691.0, 300.0), abs=1e-6)


def test_a_steering_arm_that_points_away_from_the_rack_is_said_as_it_is_asked(
    session: Session, opened: Opened
) -> None:
    own_things(session)
    donors = opened()
    donors.type("x", "0")
    donors.type("outboard", "700")
    assert "steering arm" not in donors.said

    donors.pick(donors.fields.rack, 2)
    assert "Its steering arm points ahead of the steering axis, by 118, and the rack" in donors.said
    assert "is to lie behind" in donors.said
    donors.pick(donors.fields.turned, 1)
    assert "and the rack is to lie" not in donors.said
    assert "its steering arm points behind the steering axis" in donors.said.lower()

    QTest.mouseClick(donors.form.carry, LEFT)
    assert len(session.state.document.corners) == 1, "a warning forbids nothing"


@pytest.mark.parametrize(("downs", "side", "y"), [(1, "one", 700.0), (2, "one", -700.0)])
def test_one_side_alone(
    session: Session, selection: Selection, opened: Opened, downs: int, side: str, y: float
) -> None:
    own_things(session)
    donors = opened()
    donors.type("x", "0")
    donors.type("outboard", "700")
    donors.pick(donors.fields.side, downs)

    QTest.mouseClick(donors.form.carry, LEFT)

    (corner,) = session.state.document.corners
    assert not corner.pair
    assert corner.upright.hub_face.y == pytest.approx(y)
    assert selection.refs == (Ref(corner.id, "one"),)
    assert side == selection.refs[0].side


def test_what_is_refused_is_said_at_the_place_and_nothing_is_made(
    session: Session, opened: Opened
) -> None:
    put(session, measured(demo_car(), "front"))
    donors, before = opened(), session.state
    donors.type("x", "0")
    donors.type("outboard", "700")
    assert "none is named; make that tyre first." in donors.said

    QTest.mouseClick(donors.form.carry, LEFT)

    assert session.state is before
    assert donors.said.startswith("The hub will be as high as the loaded radius")
    donors.type("outboard", "12 horses")
    QTest.mouseClick(donors.form.carry, LEFT)
    assert session.state is before
    assert donors.fields.fields["outboard"].sentence.text


@pytest.mark.parametrize("car", ["demo", "second"])
def test_where_a_corner_stands_it_is_refused_until_that_is_gone(
    request: pytest.FixtureRequest, opened: Opened, car: str
) -> None:
    session: Session = request.getfixturevalue(car)
    put(session, measured(demo_car() if car == "second" else second_car(), "front"))
    end = "rear" if car == "second" else "front"  # the end that is not driven
    donors = opened()
    donors.type("x", "0")
    donors.type("outboard", "600")
    tyre = session.state.document.tyres[0].name
    donors.name("tyre", tyre)
    assert donors.fields.end.value == end
    assert f"The {end} end has {end} corner left there already" in donors.said
    old = corner_at(session.state.document, end)

    session.apply("gone", lambda d: delete(d, old.id, with_dependents=True))

    assert "there already" not in donors.said
    assert donors.form.warned.sentences
    before = session.state.document
    QTest.mouseClick(donors.form.carry, LEFT)
    new: Corner = session.state.document.corners[-1]
    assert new.upright.hub_face.y == pytest.approx(600.0)
    session.undo()
    assert session.state.document == before


def test_what_would_come_over_stands_beside_the_car_until_it_has(
    session: Session, selection: Selection, opened: Opened
) -> None:
    own_things(session)
    donors, trial = opened(), Trial.of(selection)
    donors.type("x", "0")
    assert trial.scene is None
    donors.type("outboard", "700")
    assert trial.scene is not None
    assert session.state.document.corners == ()

    QTest.mouseClick(donors.form.carry, LEFT)
    assert trial.scene is None
    session.undo()
    assert trial.scene is not None
    QTest.mouseClick(donors.panel.fold.line, LEFT)
    assert trial.scene is None


def test_a_click_on_a_name_chooses_the_donor_and_asks_for_it(
    session: Session, selection: Selection, opened: Opened
) -> None:
    own_things(session)
    put(session, measured(second_car(), "front", name="second scrap"))
    donors = opened()
    assert donors.line("donor").text() == "second scrap", "the newest is offered"
    first = session.state.document.donor_corners[0]

    QTest.mouseClick(donors.panel.rows[first.id].name, LEFT)

    assert selection.refs == (Ref(first.id),)
    assert donors.line("donor").text() == "hatchback"
    session.apply("gone", lambda d: delete(d, first.id))
    assert donors.line("donor").text() == "second scrap"
    assert list(donors.panel.rows) == [session.state.document.donor_corners[0].id]


def test_the_usual_links_are_entered_as_one_step(session: Session, opened: Opened) -> None:
    donor = measured(demo_car(), "front", links=())
    put(session, donor)
    donors = opened()
    (row,) = donors.panel.rows.values()
    assert row.links.text() == "Enter its 5 usual links"

    QTest.mouseClick(row.links, LEFT)

    assert session.state.document.donor_corners[0].links == usual_links(donor.points)
    assert not row.links.isVisible()
    session.undo()
    assert session.state.document.donor_corners[0].links == ()
    assert row.links.isVisible()


# --- beside one another -------------------------------------------------------------------------


class Files(Asks):
    """A file that was named before."""

    def __init__(self, look: Look, window: QWidget, path: Path) -> None:
        super().__init__(look, window)
        self.path = path

    def donors_file(self, suggested: Path) -> Path | None:
        assert suggested.suffix == ".xlsx"
        return self.path


@pytest.fixture
def comparison(session: Session, selection: Selection, look: Look, show: Show) -> DonorComparison:
    made = DonorComparison(session, selection, look)
    show(made, 900, 400)
    return made


def two(session: Session) -> None:
    put(session, measured(demo_car(), "front", name="one"))
    put(session, measured(second_car(), "front", name="two", datum="wheel_centre"))


def cells(panel: DonorComparison) -> list[list[str]]:
    model = panel.model
    return [
        [str(model.data(model.index(row, column))) for column in range(model.columnCount())]
        for row in range(model.rowCount())
    ]


def test_without_a_donor_the_table_says_so(
    selection: Selection, comparison: DonorComparison, qtbot: QtBot
) -> None:
    assert comparison.none.isVisible()
    assert not comparison.table.isVisible()
    with qtbot.waitSignal(selection.make_wanted):
        QTest.mouseClick(comparison.make, LEFT)


def test_two_donors_stand_on_the_same_axes_whatever_they_were_measured_from(
    session: Session, comparison: DonorComparison
) -> None:
    two(session)

    rows = cells(comparison)

    lower = [row for row in rows if row[0] == "lower outer"]
    assert [row[1] for row in lower] == ["one", "two"]
    for row, car in zip(lower, (demo_car(), second_car()), strict=True):
        corner = corner_at(car, "front")
        ball = next(role.point for role in corner.points if role.role == "lower_outer")
        at = Vec3(*compute(car, {}, place, ball))
        hub = corner.upright.hub_face
        told = [float(cell.replace("\u2212", "-")) for cell in row[2:5]]
        assert told == pytest.approx([a - b for a, b in zip(at, hub, strict=True)], abs=0.051)
        assert float(row[5]) == pytest.approx(at.z, abs=0.051)


def test_how_they_stood_has_a_column_a_donor_and_what_is_not_known_says_so(
    session: Session, comparison: DonorComparison
) -> None:
    two(session)

    QTest.mouseClick(comparison.tabs.tabs["standing"], LEFT)

    model = comparison.model
    heads = [model.headerData(n, Qt.Orientation.Horizontal) for n in range(model.columnCount())]
    sides = [model.headerData(n, Qt.Orientation.Vertical) for n in range(model.rowCount())]
    assert heads == ["one", "two"]
    rows = dict(zip(sides, cells(comparison), strict=True))
    assert rows["Linkage"] == ["double wishbone", "strut"]
    assert rows["Track (mm)"] == ["don't know", "don't know"]
    assert rows["Hub face above ground (mm)"][0] == "282.0"


def test_a_donor_that_is_not_ticked_is_left_out(
    session: Session, comparison: DonorComparison
) -> None:
    two(session)
    assert [tick.text() for tick in comparison.ticks.values()] == ["one", "two"]
    first, second = comparison.ticks.values()

    QTest.mouseClick(first, LEFT, pos=first.rect().topLeft() + first.rect().center() * 0.2)
    assert {row[1] for row in cells(comparison)} == {"two"}
    second.setFocus()
    QTest.keyClick(second, Qt.Key.Key_Space)

    assert comparison.none.text().startswith("Tick the donors")
    assert not comparison.write.isVisible()


@pytest.mark.parametrize("ending", [".csv", ".xlsx"])
def test_the_table_in_front_is_written(
    session: Session, comparison: DonorComparison, look: Look, tmp_path: Path, ending: str
) -> None:
    two(session)
    path = tmp_path / f"donors{ending}"
    comparison.asks = Files(look, comparison, path)

    QTest.mouseClick(comparison.write, LEFT)

    if ending == ".csv":
        read = list(csv.reader(io.StringIO(path.read_text("utf-8"), newline="")))
        found = {line[0] for line in read}
    else:
        sheet = openpyxl.load_workbook(path).active
        assert sheet is not None
        found = {str(row[0].value) for row in sheet.iter_rows()}
    assert {"Points of the donors", "lower outer", "strut top"} <= found
    assert comparison.said.text() == f"{len(cells(comparison))} lines written to {path.name}."


def test_a_file_that_cannot_be_written_is_said(
    session: Session, comparison: DonorComparison, look: Look, tmp_path: Path
) -> None:
    two(session)
    comparison.asks = Files(look, comparison, tmp_path / "not there" / "donors.csv")

    QTest.mouseClick(comparison.write, LEFT)

    assert "could not be written" in comparison.said.text()


def test_the_comparison_is_asked_for_as_a_list(
    session: Session, selection: Selection, opened: Opened, qtbot: QtBot
) -> None:
    two(session)
    donors = opened()
    assert donors.panel.compare.text() == "Compare them"

    with qtbot.waitSignal(selection.list_wanted) as wanted:
        QTest.mouseClick(donors.panel.compare, LEFT)

    assert wanted.args == [COMPARISON]
