"""The command `check` on cars of which everything, something or nothing is known."""

import re
import shutil
from pathlib import Path

import msgspec
import pytest

from app.__main__ import main
from core.checks.rules import assess_all, to_look_at
from core.document.base import Ref
from core.document.codec import read_project
from core.document.project import Change, Layer, Project
from core.document.records import Acceptance
from tests.app.cars import DEMO, SECOND, empty_car, tubes_only, tubes_only_car, written

Capture = pytest.CaptureFixture[str]


def test_the_demo_car_has_tight_places_and_nothing_that_fails(capsys: Capture) -> None:
    code = main(["check", str(DEMO)])
    out, err = capsys.readouterr()
    assert code == 0
    assert err == ""
    assert out.startswith("Fennock One\n")
    to_look_at = out[: out.index("Figures worth knowing")]
    assert "\ntight " in to_look_at
    assert "\nno " not in to_look_at
    assert "\ndon't know " not in to_look_at


def test_the_demo_car_tells_the_figures_it_was_drawn_to(capsys: Capture) -> None:
    # 1380 and 1400: stated tracks of the neutral file that the demo car is made from.
    main(["check", str(DEMO)])
    out = capsys.readouterr().out
    assert "track, front axle: 1380.0 mm" in out
    assert "track, rear axle: 1400.0 mm" in out


def test_what_fails_or_is_unknown_stands_before_what_is_tight(capsys: Capture) -> None:
    code = main(["check", str(SECOND)])
    out = capsys.readouterr().out
    assert code == 3
    assert 0 < out.index("\ndon't know ") < out.index("\ntight ")
    assert "Nothing says what carries steering_rack" in out


def test_an_empty_car_is_unknown_and_never_fine(capsys: Capture, tmp_path: Path) -> None:
    code = main(["check", str(empty_car(tmp_path))])
    out = capsys.readouterr().out
    assert code == 3
    assert "Nothing yet" in out
    assert "Fine: 0 things; 0 more questions found nothing amiss." in out
    assert "track: don't know, because no axle is entered" in out


def test_a_car_of_tubes_alone_is_unknown_where_parts_are_missing(
    capsys: Capture, tmp_path: Path
) -> None:
    code = main(["check", str(tubes_only_car(tmp_path))])
    out = capsys.readouterr().out
    assert code == 3
    assert "because no drive shaft is entered" in out
    assert "because there is no engine and gearbox" in out
    idle = next(line for line in out.splitlines() if line.startswith("Nothing is entered"))
    assert "Is every bracket short?" in idle
    assert "Is every bend met by another tube?" not in idle


def test_a_loose_tube_fails(capsys: Capture, tmp_path: Path) -> None:
    drawn = tubes_only()
    open_frame = msgspec.structs.replace(drawn, tubes=drawn.tubes[:2])
    code = main(["check", str(written(Project(drawn=open_frame), tmp_path))])
    out = capsys.readouterr().out
    assert code == 1
    assert "Only T1 comes to A" in out


def test_what_is_accepted_is_listed_last_with_its_reason_and_not_counted(
    capsys: Capture, tmp_path: Path
) -> None:
    drawn = read_project(SECOND).drawn
    unknown = [f for f in to_look_at(assess_all(drawn, {})) if f.verdict == "unknown"]
    accepted = tuple(
        Acceptance(
            id=f"acceptance{n}",
            name=f"{n}",
            rule=finding.rule,
            subjects=finding.subjects,
            reason="its bracket is on the bench",
        )
        for n, finding in enumerate(unknown, 1)
    )
    assert [f.subjects for f in unknown if f.rule == "not_carried"] == [(Ref("rack1"),)]
    drawn = msgspec.structs.replace(drawn, acceptances=accepted)
    code = main(["check", str(written(Project(drawn=drawn), tmp_path))])
    out = capsys.readouterr().out
    assert code == 0
    assert re.search(r"worst first: \d+ tight\.\n", out)
    end = out[out.index("Accepted by the builder") :]
    assert "Nothing says what carries steering_rack" in end
    assert "accepted: its bracket is on the bench" in end


def test_what_is_not_looked_at_and_the_cautions_are_said_once_at_the_end(capsys: Capture) -> None:
    main(["check", str(DEMO)])
    lines = capsys.readouterr().out.splitlines()
    assert lines[-5].startswith("Not looked at by this version: ")
    assert lines[-4] == "Silence about any of these does not mean fine."
    assert "stands rated for the load" in lines[-2]
    assert "signed off by licensed practice" in lines[-1]


def test_layers_that_are_not_laid_over_are_named(capsys: Capture, tmp_path: Path) -> None:
    layers = (Layer(id="layer1", name="as welded", purpose="as_built"),)
    car = written(Project(drawn=tubes_only(), layers=layers), tmp_path)
    main(["check", str(car)])
    assert "without its layers (as welded)" in capsys.readouterr().out


def test_the_version_changes_with_the_contents(capsys: Capture, tmp_path: Path) -> None:
    drawn = tubes_only()
    less = msgspec.structs.replace(drawn, tubes=drawn.tubes[:2])
    cars = [written(Project(drawn=d), tmp_path, n) for d, n in ((drawn, "a"), (less, "b"))]
    versions: list[str] = []
    for car in (cars[0], cars[0], cars[1]):
        main(["check", str(car)])
        lines = capsys.readouterr().out.splitlines()
        versions += [line for line in lines if line.startswith("Jigplate ")]
    assert versions[0] == versions[1] != versions[2]


def test_a_file_that_is_not_there_is_told_in_one_sentence(capsys: Capture, tmp_path: Path) -> None:
    code = main(["check", str(tmp_path / "none.jigplate")])
    out, err = capsys.readouterr()
    assert code == 2
    assert out == ""
    assert err.count("\n") == 1
    assert "none.jigplate" in err
    assert "cannot be read" in err


def test_a_damaged_file_is_told_in_one_sentence(capsys: Capture, tmp_path: Path) -> None:
    cut = tmp_path / "cut.jigplate"
    cut.write_bytes(DEMO.read_bytes()[:5000])
    code = main(["check", str(cut)])
    out, err = capsys.readouterr()
    assert (code, out, err.count("\n")) == (2, "", 1)


def test_a_missing_and_a_damaged_mesh_are_warned_of(capsys: Capture, tmp_path: Path) -> None:
    bare = tmp_path / "bare.jigplate"
    bare.write_bytes(DEMO.read_bytes())
    assert main(["check", str(bare)]) == 0  # its solids are measured, not its mesh
    err = capsys.readouterr().err
    assert "is not in bare.meshes" in err
    assert "only the picture lacks it: gaps are measured to the boxes" in err
    assert "not known" not in err
    (mesh,) = DEMO.with_suffix(".meshes").glob("*.ply")
    (tmp_path / "bare.meshes").mkdir()
    (tmp_path / "bare.meshes" / mesh.name).write_bytes(mesh.read_bytes()[:-1])
    main(["check", str(bare)])
    assert "is damaged" in capsys.readouterr().err


def test_a_missing_mesh_that_is_all_there_is_leaves_the_gaps_unknown(
    capsys: Capture, tmp_path: Path
) -> None:
    project = read_project(DEMO)
    (unit,) = project.drawn.power_units
    shape = msgspec.structs.replace(unit, solids=())
    exhausts = tuple(msgspec.structs.replace(e, unit_solids=()) for e in project.drawn.exhausts)
    drawn = msgspec.structs.replace(project.drawn, power_units=(shape,), exhausts=exhausts)
    assert main(["check", str(written(Project(drawn=drawn), tmp_path))]) == 3
    out, err = capsys.readouterr()
    assert "what is measured to it is not known" in err
    assert "\ndon't know " in out


def test_a_missing_mesh_of_a_layer_alone_says_so(capsys: Capture, tmp_path: Path) -> None:
    change = Change(id="power_unit1", of="mesh.sha256", value="0" * 64)
    layer = Layer(id="layer1", name="other engine", changes=(change,))
    project = msgspec.structs.replace(read_project(DEMO), layers=(layer,))
    car = written(project, tmp_path)
    shutil.copytree(DEMO.with_suffix(".meshes"), car.with_suffix(".meshes"))
    assert main(["check", str(car)]) == 0
    assert "only a layer needs it" in capsys.readouterr().err


def test_a_fault_of_the_program_is_told_in_full_and_never_as_a_failing_car(
    capsys: Capture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> int:
        raise ZeroDivisionError

    monkeypatch.setattr("app.cli.check.run", broken)
    assert main(["check", str(DEMO)]) == 70
    assert "Traceback" in capsys.readouterr().err
