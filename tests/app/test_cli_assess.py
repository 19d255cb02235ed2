"""The whole assessment as JSON."""

import json
from pathlib import Path
from typing import Any, NoReturn

import pytest

from app.__main__ import main
from core.checks.rules import RULES
from tests.app.cars import DEMO, SECOND, empty_car, tubes_only_car

Capture = pytest.CaptureFixture[str]


def refuse(word: str) -> NoReturn:
    raise AssertionError(word)


def assessed(capsys: Capture, car: Path, *more: str) -> tuple[int, Any]:
    """Exit code and JSON; words that JSON has none of, such as NaN, are refused."""
    code = main(["assess", str(car), *more])
    return code, json.loads(capsys.readouterr().out, parse_constant=refuse)


def test_findings_and_headline_figures_are_keyed_by_room(capsys: Capture) -> None:
    code, found = assessed(capsys, DEMO)
    assert code == 0
    rooms = list(found["rooms"])
    assert rooms == list(dict.fromkeys(rule.room for rule in RULES))
    assert set(rooms) >= {"width", "suspension", "clearance", "load paths"}
    # Track of the neutral file that the demo car is made from.
    width = found["rooms"]["width"]["figures"]["axle_width"]
    assert width["drive_shaft_L, drive_shaft_R"]["track"] == pytest.approx(1400.0, abs=0.01)
    gaps = [f for f in found["rooms"]["clearance"]["findings"] if f["rule"] == "unit_gap"]
    assert gaps[0]["subjects"][0]["name"] == "M59_backstay_R"
    assert gaps[0]["verdict"] == "tight"
    assert "reads" not in found["rooms"]["width"]


def test_every_finding_has_a_word_a_sentence_and_its_subjects(capsys: Capture) -> None:
    code, found = assessed(capsys, SECOND)
    assert code == 3
    findings = [f for room in found["rooms"].values() for f in room["findings"]]
    assert {f["word"] for f in findings} == {"fine", "tight", "don't know"}
    assert all(f["sentence"] for f in findings)
    unknown = [f for f in findings if f["verdict"] == "unknown"]
    # What carries the rack, the joints of four corners, and how long springs and bump stops are,
    # is not in its file.
    joints_and_springs = [*["bump_stop"] * 2, *["coil_bind"] * 2, *["hangs", "link_tilt"] * 4]
    assert sorted(f["rule"] for f in unknown) == sorted([*joints_and_springs, "not_carried"])
    (rack,) = [f["subjects"] for f in unknown if f["rule"] == "not_carried"]
    assert rack == [{"address": "rack1", "name": "steering_rack"}]
    assert found["count"]["don't know"] == 13


def test_with_all_every_cell_has_its_reads(capsys: Capture) -> None:
    _, found = assessed(capsys, DEMO, "--all")
    places = found["rooms"]["places"]
    assert places["figures"]["place"]["A_low_R"] == [165.0, -285.0, 150.0]
    assert "point1:right.at" in places["reads"]["place"]["A_low_R"]
    assert set(places["figures"]) <= set(places["reads"])
    assert "every point" in found["rooms"]["load paths"]["reads"]["points_on_tubes"]["car"]


@pytest.mark.parametrize("more", [(), ("--all",)])
def test_the_same_car_gives_the_same_bytes(more: tuple[str, ...], tmp_path: Path) -> None:
    outputs = [tmp_path / f"{n}.json" for n in (1, 2)]
    for output in outputs:
        main(["assess", str(DEMO), "--output", str(output), *more])
    assert outputs[0].read_bytes() == outputs[1].read_bytes()
    json.loads(outputs[0].read_bytes())


def test_what_could_not_be_computed_says_why(capsys: Capture, tmp_path: Path) -> None:
    code, found = assessed(capsys, empty_car(tmp_path))
    assert code == 3
    assert found["count"]["fine"] == 0
    assert found["worth_knowing"][0]["value"] is None
    assert "no axle is entered" in found["worth_knowing"][0]["note"]
    _, whole = assessed(capsys, tubes_only_car(tmp_path), "--all")
    gaps = whole["rooms"]["clearance"]["figures"]["closest_at_rest"]["car"]
    assert gaps == {"unknown": "there is no engine and gearbox"}


def test_a_project_is_never_written_over(capsys: Capture, tmp_path: Path) -> None:
    car = tubes_only_car(tmp_path)
    before = car.read_bytes()
    assert main(["assess", str(car), "--output", str(car)]) == 2
    assert car.read_bytes() == before
    assert "give the assessment another name" in capsys.readouterr().err


def test_a_folder_that_is_not_there_is_told(capsys: Capture, tmp_path: Path) -> None:
    car = tubes_only_car(tmp_path)
    assert main(["assess", str(car), "--output", str(tmp_path / "none" / "a.json")]) == 2
    assert "cannot be written" in capsys.readouterr().err
