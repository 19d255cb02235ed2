"""The hardpoint table as the command line writes it, read back by other libraries."""

import csv
import io
import json
from pathlib import Path

import openpyxl
import pytest
from openpyxl.worksheet.worksheet import Worksheet

from app.__main__ import main
from core.document.donors import DonorCorner
from core.document.project import Project, empty_project
from core.edits.things import make
from tests.app.cars import DEMO, REPOSITORY, empty_car, tubes_only, tubes_only_car, written
from tests.core.edits.cars import demo_car, second_car
from tests.core.edits.donors import corner_at, measured

Capture = pytest.CaptureFixture[str]
Row = dict[str, str]
DAY = ("--date", "2031-05-17")
NEUTRAL = json.loads((REPOSITORY / "tests" / "cars" / "demo-car.json").read_text("utf-8"))
"""What the demo car is made from: its coordinates are written there as plain lists."""


def exported(car: Path, folder: Path, *more: str) -> tuple[dict[str, str], dict[str, Row]]:
    """Head facts, and rows by name, of the table of a car."""
    output = folder / "points.csv"
    assert main(["export", "hardpoints", str(car), str(output), *DAY, *more]) == 0
    lines = list(csv.reader(io.StringIO(output.read_bytes().decode("utf-8"), newline="")))
    head = next(n for n, line in enumerate(lines) if line[0] == "Name")
    facts = {line[0]: line[1] for line in lines[1:head] if line[0]}
    rows = [dict(zip(lines[head], line, strict=True)) for line in lines[head + 1 :]]
    named = [row for row in rows if row["Side"]]
    assert len({row["Name"] for row in named}) == len(named)
    return facts, {row["Name"]: row for row in named}


def place(row: Row, unit: str = "mm") -> list[float]:
    return [float(row[f"{axis} ({unit})"]) for axis in "xyz"]


def test_every_joint_of_the_frame_stands_where_the_neutral_file_says(tmp_path: Path) -> None:
    _, rows = exported(DEMO, tmp_path)
    nodes = NEUTRAL["frame"]["nodes"]
    assert len(nodes) == 43
    for name, node in nodes.items():
        # 0.01: the neutral file's own accuracy of a joint on a tube; 0.005: two decimals.
        assert place(rows[name]) == pytest.approx(node["xyz"], abs=0.016), name
        assert "tube joint" in rows[name]["What it is"]


@pytest.mark.parametrize("end", ["front", "rear"])
def test_hardpoints_and_wheel_centres_stand_where_the_neutral_file_says(
    end: str, tmp_path: Path
) -> None:
    _, rows = exported(DEMO, tmp_path)
    for role, left in NEUTRAL["suspension"][end]["hardpoints_left"].items():
        names = [f"{end}_{role}_L", f"{end}_{role}_R"]
        if role == "wheel_centre":
            names = [f"{end} corner left wheel centre", f"{end} corner right wheel centre"]
        if role == "tie_inner":
            names = ["steering_rack_L", "steering_rack_R"]
        x, y, z = left
        assert place(rows[names[0]]) == pytest.approx([x, y, z], abs=0.005), names[0]
        assert place(rows[names[1]]) == pytest.approx([x, -y, z], abs=0.005), names[1]


@pytest.mark.parametrize("side", ["left", "right"])
def test_shaft_joints_stand_where_the_neutral_file_says(side: str, tmp_path: Path) -> None:
    _, rows = exported(DEMO, tmp_path)
    shaft = NEUTRAL["power_unit"]["drive_shafts"][side]
    name = f"drive_shaft_{side[0].upper()}"
    assert place(rows[f"{name} inner joint"]) == pytest.approx(shaft["inner_joint_centre"])
    assert place(rows[f"{name} outer joint"]) == pytest.approx(shaft["outer_joint_centre"])
    assert rows[f"{name} inner joint"]["Source"] == "worked out"


def test_mounts_stand_where_the_neutral_file_says(tmp_path: Path) -> None:
    _, rows = exported(DEMO, tmp_path)
    bushes = [m for m in NEUTRAL["power_unit"]["mounts"] if "bush_centre" in m]
    assert bushes
    for mount in bushes:
        assert place(rows[mount["name"]]) == pytest.approx(mount["bush_centre"])
    assert {
        "M3_torque_stay end on the chassis",
        "M3_torque_stay end on the engine and gearbox",
    } <= {*rows}


def test_adjusters_have_the_range_of_the_neutral_file(tmp_path: Path) -> None:
    _, rows = exported(DEMO, tmp_path)
    column = "Fixed or adjustable"
    assert rows["front_upper_inner_front_R"][column] == (
        "adjustable: -6.00 to +8.00 mm, sets camber and caster"
    )
    assert rows["A_low_L"][column] == "fixed"


def test_the_head_says_what_the_table_is_of(tmp_path: Path) -> None:
    facts, _ = exported(DEMO, tmp_path)
    assert facts["Car"] == "Fennock One"
    assert "Not a design to build" in facts["Statement"]
    assert facts["Axes"] == "ISO 8855: x forward, y to the left, z up"
    assert facts["Units"] == "millimetres"
    assert facts["Date"] == "2031-05-17"
    assert "contents" in facts["Version"]


def test_a_datum_is_measured_from_with_its_own_axes(tmp_path: Path) -> None:
    # A triangle 300, 400, 500: from B at the origin towards C lies x, and A is to the side.
    facts, rows = exported(tubes_only_car(tmp_path), tmp_path, "--datum", "table")
    assert place(rows["B"]) == pytest.approx([0.0, 0.0, 0.0])
    assert place(rows["C"]) == pytest.approx([500.0, 0.0, 0.0])
    # Foot of the height on the hypotenuse: 400^2/500 = 320 along, 300 * 400/500 = 240 high.
    assert place(rows["A"]) == pytest.approx([320.0, 240.0, 0.0])
    assert facts["Datum"] == "table, origin at B"
    assert facts["Axes"].startswith("x from B through C;")


def test_an_unknown_datum_is_refused_and_a_near_one_named(capsys: Capture, tmp_path: Path) -> None:
    car, output = tubes_only_car(tmp_path), tmp_path / "x.csv"
    code = main(["export", "hardpoints", str(car), str(output), "--datum", "tabel"])
    assert code == 2
    assert "perhaps you mean «table»" in capsys.readouterr().err
    assert not output.exists()


def test_inches_are_25_4_mm(tmp_path: Path) -> None:
    facts, rows = exported(tubes_only_car(tmp_path), tmp_path, "--unit", "in")
    assert place(rows["B"], "in") == pytest.approx([15.748, 0.0, 3.937])  # 400/25.4, 100/25.4
    assert facts["Units"] == "inches"


def test_a_workbook_holds_the_same_as_numbers(tmp_path: Path) -> None:
    output = tmp_path / "points.xlsx"
    assert main(["export", "hardpoints", str(DEMO), str(output), *DAY]) == 0
    sheet = openpyxl.load_workbook(output).active
    assert isinstance(sheet, Worksheet)
    rows = {row[0]: row for row in sheet.iter_rows(values_only=True)}
    for name in ("A_low_R", "G_mid_L"):
        expected = NEUTRAL["frame"]["nodes"][name]["xyz"]
        assert rows[name][3:6] == pytest.approx(tuple(expected), abs=0.011)


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_the_same_car_and_date_give_the_same_bytes(ending: str, tmp_path: Path) -> None:
    outputs = [tmp_path / f"{n}.{ending}" for n in (1, 2)]
    for output in outputs:
        assert main(["export", "hardpoints", str(DEMO), str(output), *DAY]) == 0
    assert outputs[0].read_bytes() == outputs[1].read_bytes()


def test_an_empty_car_gives_a_table_without_rows(tmp_path: Path) -> None:
    facts, rows = exported(empty_car(tmp_path), tmp_path)
    assert facts["Car"] == "Nothing yet"
    assert rows == {}


@pytest.mark.parametrize("name", ["points.txt", "points", "no_such_folder/points.csv"])
def test_a_file_that_cannot_be_written_is_told(name: str, capsys: Capture, tmp_path: Path) -> None:
    code = main(["export", "hardpoints", str(empty_car(tmp_path)), str(tmp_path / name)])
    out, err = capsys.readouterr()
    assert (code, out) == (2, "")
    assert err.count("\n") == 1


def test_a_date_in_another_form_is_refused(capsys: Capture, tmp_path: Path) -> None:
    car = written(Project(drawn=tubes_only()), tmp_path)
    with pytest.raises(SystemExit) as stopped:
        main(["export", "hardpoints", str(car), "x.csv", "--date", "17.5.2031"])
    assert stopped.value.code == 2
    assert "is no date written as" in capsys.readouterr().err


def with_donors(folder: Path) -> Path:
    """A car with two donors' corners, the second measured from its wheel centre."""
    document = empty_project("Two donors").drawn
    cars = ((demo_car(), "one", "hub_face"), (second_car(), "two", "wheel_centre"))
    for car, name, datum in cars:
        donor = measured(car, "front", name=name, datum=datum)
        fields = {f: getattr(donor, f) for f in donor.__struct_fields__ if f not in ("id", "name")}
        document, _ = make(document, DonorCorner, name, **fields)
    return written(Project(drawn=document), folder)


def test_donors_are_written_on_the_same_axes(tmp_path: Path, capsys: Capture) -> None:
    output = tmp_path / "donors.csv"

    assert main(["export", "donors", str(with_donors(tmp_path)), str(output), *DAY]) == 0

    lines = list(csv.reader(io.StringIO(output.read_bytes().decode("utf-8"), newline="")))
    rows = (line for line in lines if line[0] == "lower outer")
    balls = {line[1]: [float(cell) for cell in line[2:5]] for line in rows}
    for name, end in (("demo-car", "one"), ("second-car", "two")):
        neutral = json.loads((REPOSITORY / "tests" / "cars" / f"{name}.json").read_text("utf-8"))
        points = neutral["suspension"]["front"]["hardpoints_left"]
        document = demo_car() if end == "one" else second_car()
        face = corner_at(document, "front").upright.hub_face
        wanted = [a - b for a, b in zip(points["lower_outer"], face, strict=True)]
        assert balls[end] == pytest.approx(wanted, abs=0.051)
    assert "of 2 donor corners written to" in capsys.readouterr().out


def test_how_donors_stood_is_written_and_what_is_not_known_says_so(tmp_path: Path) -> None:
    output = tmp_path / "donors.xlsx"

    words = ["export", "donors", str(with_donors(tmp_path)), str(output), "--standing", *DAY]
    assert main(words) == 0

    sheet = openpyxl.load_workbook(output).active
    assert isinstance(sheet, Worksheet)
    rows = {str(row[0].value): [cell.value for cell in row] for row in sheet.iter_rows()}
    track = rows["Donor"].index("Track (mm)")
    assert [rows[name][track] for name in ("one", "two")] == ["don't know"] * 2


def test_a_car_without_donors_says_so_and_writes_nothing(tmp_path: Path, capsys: Capture) -> None:
    output = tmp_path / "donors.csv"

    assert main(["export", "donors", str(empty_car(tmp_path)), str(output)]) == 2

    assert "this car has no donor corner" in capsys.readouterr().err
    assert not output.exists()
