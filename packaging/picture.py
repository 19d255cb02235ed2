"""Take the picture of the window that stands in the README.

    python3 packaging/picture.py [FILE]

The demo car in the real window, light, at the rear end, 1600 by 900, drawn on a screen in memory:
the same car and the same program give the same picture. FILE is where it goes; without one it goes
where the README looks for it. Exits with 0 when it was written and with 2 when it could not be.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
from pathlib import Path

import screen

import environment
from environment import Environment, NotReadyError

PICTURE = Path("assets") / "pictures" / "window.png"
DRAWS = "draw_window.py"
"""The script beside this one that draws, in the environment's own Python."""


def main(arguments: list[str] | None = None) -> int:
    """Exit code: 0 when the picture was written, 2 otherwise."""
    wanted = _parser().parse_args(arguments)
    place = environment.here()
    target: Path = wanted.file or place.project / PICTURE
    try:
        environment.prepare(place, with_checkers=False)
        screen.require_packages(place, with_programs=True, may_install=True)
        with screen.own_screen() as display:
            _draw(place, target, environment.clean_variables() | display)
    except NotReadyError as missing:
        sys.stdout.flush()  # so that this sentence stands last
        print(missing, file=sys.stderr)
        return 2
    print(f"{target}: {target.stat().st_size // 1024} kB")
    return 0


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(description="Take the picture of the window.")
    parser.add_argument("file", nargs="?", type=Path, help=f"where it goes (default: {PICTURE})")
    return parser


def _draw(place: Environment, target: Path, variables: dict[str, str]) -> None:
    script = Path(__file__).resolve().with_name(DRAWS)
    done = subprocess.run(
        [place.python, script, target.resolve()], cwd=place.project, env=variables, check=False
    )
    if done.returncode != 0:
        raise NotReadyError("The picture could not be taken; the reason stands above.")


if __name__ == "__main__":
    sys.exit(main())
