"""Open a car in its window, on a machine that has nothing but Python.

    python3 packaging/start.py [FILE]
    python3 packaging/start.py --check [FILE]

FILE is a .jigplate file; without one it is the demo car. Makes the environment the first time.
With --check, and where there is no screen, no window is opened: the car is checked and its
hardpoints are written. Exits with 0
when the job ran, whatever the check answered, and with 2 when it could not.
"""

from __future__ import annotations

import argparse
import errno
import os
import subprocess
import sys
from datetime import datetime
from pathlib import Path

import screen

import environment
from environment import Environment, NotReadyError

DEMO = Path("assets") / "demo-car.jigplate"

NO_SCREEN = (
    "There is no screen here to open the window on, so the car is checked and its hardpoints are "
    "written instead; the program's own commands without a window are check, assess, "
    "export hardpoints, why and fault."
)

# What the exit code of `check` means. Any other is no answer.
ANSWERS = {
    0: "The check ran: nothing in it fails and nothing in it is unknown.",
    1: "The check ran: something fails, see above.",
    3: "The check ran: nothing fails, but something is unknown, and unknown does not mean fine.",
}


def main(arguments: list[str] | None = None) -> int:
    """Exit code: 0 when the window was shown or the check ran, 2 otherwise."""
    wanted = _parser().parse_args(arguments)
    place = environment.here()
    try:
        car = _find(wanted.file, place)
        if not wanted.check and not screen.has_screen():
            print(NO_SCREEN)
        if wanted.check or not screen.has_screen():
            environment.prepare(place, with_checkers=False)
            _check(place, car)
            _export(place, car)
        else:
            _open(place, car)
    except NotReadyError as missing:
        sys.stdout.flush()  # so that this sentence stands last
        print(missing, file=sys.stderr)
        return 2
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(description="Open a car in its window.")
    parser.add_argument("file", nargs="?", type=Path, help="a .jigplate file (default: demo car)")
    parser.add_argument(
        "--check", action="store_true", help="without a window: check it, write its hardpoints"
    )
    return parser


def _open(place: Environment, car: Path) -> None:
    """Show the window until it is closed; what it cannot do without is told before installing."""
    screen.require_packages(place, with_programs=False, may_install=False)
    environment.prepare(place, with_checkers=False)
    if _run(place, "open", str(car)) != 0:
        raise NotReadyError("The window could not be shown; the reason stands above.")


def _find(file: Path | None, place: Environment) -> Path:
    """The file as the person named it, or the demo car."""
    car = Path(os.path.relpath(place.project / DEMO)) if file is None else file
    if not car.is_file():
        raise NotReadyError(f"There is no file {car}: name a .jigplate file that exists.")
    return car


def _check(place: Environment, car: Path) -> None:
    """Run the check and say its answer in words."""
    code = _run(place, "check", str(car))
    if code not in ANSWERS:
        raise NotReadyError("The check could not run; the reason stands above.")
    print(ANSWERS[code])


def _export(place: Environment, car: Path) -> None:
    """Write the hardpoints under the project's folder and say where they are."""
    table = place.project / "build" / f"{car.stem}-hardpoints.csv"
    try:
        _require_writable(table)
    except OSError as error:
        raise NotReadyError(environment.write_sentence(error)) from error
    today = datetime.now().astimezone().date().isoformat()
    if _run(place, "export", "hardpoints", str(car), str(table), "--date", today) != 0:
        raise NotReadyError("The hardpoints could not be written; the reason stands above.")
    print(f"The hardpoints are in {os.path.relpath(table)}")


def _require_writable(table: Path) -> None:
    """Refuse a file that cannot be written; its folder is made."""
    table.parent.mkdir(exist_ok=True)
    if not os.access(table if table.exists() else table.parent, os.W_OK):
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))


def _run(place: Environment, *words: str) -> int:
    """Exit code of the program; 2 also when it broke off, which Python itself tells by a 1."""
    sys.stdout.flush()
    # -P: a folder named app where the person stands must not be taken for the program.
    done = subprocess.run(
        [place.python, "-P", "-m", "app", *words],
        stdin=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        env=environment.clean_variables(),
        check=False,
    )
    sys.stderr.write(done.stderr.decode(errors="replace"))
    sys.stderr.flush()
    broke_off = b"Traceback (most recent call last)" in done.stderr
    return 2 if broke_off else done.returncode


if __name__ == "__main__":
    sys.exit(main())
