"""The script that runs every check runs all of them, the tests last, and tells how each went."""

import importlib.util
import sys
from contextlib import nullcontext
from pathlib import Path
from types import ModuleType

import pytest

import environment
from environment import Environment


@pytest.fixture(scope="module")
def script() -> ModuleType:
    """The script, under a name of its own: Python has a module named test."""
    path = environment.here().project / "packaging" / "test.py"
    specification = importlib.util.spec_from_file_location("packaging_test_script", path)
    assert specification is not None
    assert specification.loader is not None
    module = importlib.util.module_from_spec(specification)
    sys.modules[specification.name] = module  # dataclasses look their own module up
    specification.loader.exec_module(module)
    return module


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, script: ModuleType) -> Environment:
    """A project whose environment is ready and whose every tool notes its call and passes."""
    found = Environment(tmp_path)
    found.python.parent.mkdir(parents=True)
    (found.project / "pyproject.toml").touch()
    for name in {"python", *(step.tool for step in script.STEPS)}:
        _tool(found, name, f'echo "{name} $*" >> calls')
    found.stamp.write_text(f"{environment.key(found)} dev\n", encoding="utf-8")
    monkeypatch.setattr(script.screen, "missing_packages", lambda **_: [])
    monkeypatch.setattr(script.screen, "own_screen", lambda: nullcontext({"DISPLAY": ":77"}))
    monkeypatch.setattr(environment, "here", lambda: found)
    return found


BESIDE = ("window", "mutations")
"""Steps that run beside the others, in their order."""

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="plays the tools by shell scripts")


def _tool(place: Environment, name: str, command: str) -> None:
    place.tool(name).write_text(f"#!/bin/sh\n{command}\n", encoding="utf-8")
    place.tool(name).chmod(0o755)


def _lines(text: str) -> list[str]:
    return [line.split(" in ")[0] for line in text.splitlines()]


@pytest.mark.usefixtures("place")
def test_all_steps_run_in_order_with_the_window_beside_them(
    script: ModuleType, capfd: pytest.CaptureFixture[str]
) -> None:
    ended = script.main([])

    assert ended == 0
    names = ["ruff", "docstrings", "format", "mypy", "basedpyright", "layers", "pytest"]
    said = _lines(capfd.readouterr().out)
    assert [line for line in said if not line.startswith(BESIDE)] == [
        f"{name}: passed" for name in names
    ]
    assert [line for line in said if line.startswith(BESIDE)] == [f"{n}: passed" for n in BESIDE]


def test_a_step_that_fails_stops_no_other_and_fails_the_whole(
    place: Environment, script: ModuleType, capfd: pytest.CaptureFixture[str]
) -> None:
    _tool(place, "mypy", f"echo {place.project}/core/x.py: wrong; exit 1")

    ended = script.main([])

    said = capfd.readouterr().out
    assert ended == 1
    assert "\ncore/x.py: wrong\n" in said
    assert "mypy: FAILED" in said
    assert "pytest: passed" in said
    assert said.endswith("Failed: mypy\n")


@pytest.mark.parametrize("code", [1, 2, 5])
def test_tests_that_fail_or_are_none_fail_the_whole(
    code: int, place: Environment, script: ModuleType
) -> None:
    _tool(place, "pytest", f"exit {code}")

    assert script.main([]) == 1


def test_steps_can_be_chosen(
    place: Environment, script: ModuleType, capfd: pytest.CaptureFixture[str]
) -> None:
    ended = script.main(["--only", "pytest", "ruff"])

    assert ended == 0
    assert _lines(capfd.readouterr().out) == ["ruff: passed", "pytest: passed"]
    assert (place.project / "calls").exists()


def test_a_step_that_does_not_exist_is_refused(
    script: ModuleType, capfd: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        script.main(["--only", "everything"])

    assert ended.value.code == 2
    assert "everything" in capfd.readouterr().err


def test_caches_stay_in_a_folder_that_can_be_written(
    place: Environment, script: ModuleType, tmp_path: Path
) -> None:
    assert script.cache_variables(place, tmp_path) == {}


def test_caches_move_when_one_belongs_to_another(
    place: Environment, script: ModuleType, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (place.project / ".mypy_cache").mkdir()
    monkeypatch.setattr(script.os, "access", lambda path, _: path.name != ".mypy_cache")

    variables = script.cache_variables(place, tmp_path / "spare")

    assert variables["MYPY_CACHE_DIR"] == str(tmp_path / "spare" / "mypy")


def test_tests_of_the_window_run_apart_and_on_a_screen_of_their_own(
    place: Environment, script: ModuleType
) -> None:
    _tool(place, "pytest", 'echo "$DISPLAY $*" >> calls')

    script.main(["--only", "window", "pytest"])

    calls = (place.project / "calls").read_text(encoding="utf-8").splitlines()
    assert ":77 --no-header tests/app tests/bench/window" in calls
    assert any(
        call.endswith(
            "--no-header --ignore=tests/app --ignore=tests/bench/window --ignore=tests/mutations"
        )
        for call in calls
    )


def test_libraries_that_cannot_be_installed_are_named_and_nothing_is_run(
    place: Environment,
    script: ModuleType,
    capfd: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(script.screen, "missing_packages", lambda **_: ["xvfb"])
    monkeypatch.setattr(script.screen, "_is_root", lambda: False)

    ended = script.main([])

    assert ended == 2
    assert "apt-get install --no-install-recommends xvfb»" in capfd.readouterr().err
    assert not (place.project / "calls").exists()


def test_steps_without_a_window_need_none_of_its_libraries(
    place: Environment, script: ModuleType, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(script.screen, "missing_packages", lambda **_: ["xvfb"])

    assert script.main(["--only", "ruff"]) == 0
    assert (place.project / "calls").exists()
