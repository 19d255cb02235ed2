"""The program as a process: what it imports, how it ends, and consoles that know few letters."""

import json
import os
import subprocess
import sys
import tomllib
from pathlib import Path

import app
from tests.app.cars import DEMO, REPOSITORY, tubes_only_car

RUN = [sys.executable, "-m", "app"]
DRAWING = ("PySide6", "PyQt6", "vtk", "vtkmodules", "pyvista", "pyvistaqt", "matplotlib")

COMMANDS = """
import sys
from app.__main__ import main
car, points = sys.argv[1:]
for words in (["check", car], ["assess", car], ["why", car, "A.at.x"], ["fault", car, "--list"],
              ["export", "hardpoints", car, points]):
    main(words)
print("\\n" + " ".join(name for name in sys.modules if name.partition(".")[0] in %r))
"""


def run(*words: str | Path, **variables: str) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(REPOSITORY), **variables}
    return subprocess.run(
        [*RUN, *map(str, words)], capture_output=True, check=False, env=environment
    )


def test_no_command_draws(tmp_path: Path) -> None:
    car, points = tubes_only_car(tmp_path), tmp_path / "points.csv"
    done = subprocess.run(
        [sys.executable, "-c", COMMANDS % (DRAWING,), car, points],
        capture_output=True,
        check=True,
        cwd=REPOSITORY,
    )
    assert points.exists()
    assert done.stdout.splitlines()[-1] == b""


def test_help_imports_no_numbers() -> None:
    code = (
        "import sys\nfrom app.__main__ import main\ntry: main(['--help'])\n"
        "except SystemExit: pass\nprint('numpy' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, check=True, cwd=REPOSITORY
    )
    assert done.stdout.splitlines()[-1] == b"False"


def test_the_process_ends_with_the_code_of_the_command(tmp_path: Path) -> None:
    assert run("check", tubes_only_car(tmp_path)).returncode == 3
    assert run("check", tmp_path / "none.jigplate").returncode == 2
    assert run().returncode == 2
    assert run("--version").stdout.decode().strip() == f"Jigplate {app.__version__}"


def test_the_assessment_is_utf_8_whatever_the_console() -> None:
    done = run("assess", DEMO, PYTHONIOENCODING="ascii")
    json.loads(done.stdout.decode("utf-8"))


def test_a_console_that_knows_few_letters_is_spoken_to_plainly() -> None:
    done = run("why", DEMO, "drive_shaft_L.length", PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert b"measured +/- 0.6" in done.stdout
    assert b"?" not in done.stdout.splitlines()[0]


def test_nobody_reading_on_is_no_complaint() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run(
        [*RUN, "check", str(DEMO)],
        stdout=writer,
        stderr=subprocess.PIPE,
        check=False,
        cwd=REPOSITORY,
    )
    os.close(writer)
    assert done.stderr == b""
    assert done.returncode == 0


def test_the_version_is_the_one_of_the_project() -> None:
    project = tomllib.loads((REPOSITORY / "pyproject.toml").read_text("utf-8"))
    assert app.__version__ == project["project"]["version"]
