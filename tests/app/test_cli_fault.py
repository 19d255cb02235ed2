"""The command `fault`: what a known fault makes worse."""

from pathlib import Path

import pytest

from app.__main__ import main
from tests.app.cars import DEMO, tubes_only_car

Capture = pytest.CaptureFixture[str]


def test_a_shaft_20_too_long_fails_and_nothing_else_is_told(capsys: Capture) -> None:
    # 20 mm on an inner joint that slides along y at mid stroke takes 20 of its 18 mm, and the
    # wheel plane may stand 20 mm farther out: 682 + 20, by the figures of the neutral file.
    code = main(["fault", str(DEMO), "SF01"])
    out = capsys.readouterr().out
    assert code == 1
    assert "To look at, worst first: 2 no." in out
    assert "drive_shaft_L runs out of stroke: 20.0 pushed in, 18.0 allowed" in out
    assert "left wheel plane drawn 700.0 from the centre plane, may stand 702.0 to 738.0" in out
    assert "M59_backstay_R" not in out


def test_a_fault_that_no_rule_sees_says_so_and_is_not_called_fine(capsys: Capture) -> None:
    code = main(["fault", str(DEMO), "SF09"])
    out = capsys.readouterr().out
    assert code == 0
    assert "No rule reports this fault yet: " in out


def test_what_of_a_fault_no_rule_sees_is_said(capsys: Capture) -> None:
    main(["fault", str(DEMO), "SF01"])
    assert "Not all of this fault is reported yet: seen at the design position only" in (
        capsys.readouterr().out
    )
    main(["fault", str(DEMO), "SF06"])
    assert "Not all of this fault" not in capsys.readouterr().out


def test_the_list_names_every_fault(capsys: Capture) -> None:
    assert main(["fault", str(DEMO), "--list"]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert [line[:4] for line in lines] == [f"SF{n:02}" for n in range(1, 19)]


def test_an_unknown_fault_is_refused(capsys: Capture) -> None:
    assert main(["fault", str(DEMO), "SF99"]) == 2
    assert "there is no fault «SF99»" in capsys.readouterr().err


def test_a_fault_on_a_car_without_its_subject_is_refused(capsys: Capture, tmp_path: Path) -> None:
    assert main(["fault", str(tubes_only_car(tmp_path)), "SF01"]) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)


def test_neither_name_nor_list_is_refused(capsys: Capture) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["fault", str(DEMO)])
    assert stopped.value.code == 2
    assert "--list" in capsys.readouterr().err
