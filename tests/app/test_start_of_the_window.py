"""The program started as a person starts it, in a process of its own."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from app.settings import FOLDER_VARIABLE

REPOSITORY = Path(__file__).resolve().parents[2]
DEMO = REPOSITORY / "assets" / "demo-car.jigplate"
LONG = 60.0


def environment(folder: Path, **more: str) -> dict[str, str]:
    kept = {k: v for k, v in os.environ.items() if k != "PYTEST_QT_API"}
    return {**kept, FOLDER_VARIABLE: str(folder), "PYTHONPATH": str(REPOSITORY), **more}


def test_without_a_screen_it_says_so_in_a_sentence_and_names_the_commands(tmp_path: Path) -> None:
    variables = environment(tmp_path)
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        variables.pop(name, None)

    done = subprocess.run(
        [sys.executable, "-m", "app"],
        env=variables,
        capture_output=True,
        text=True,
        timeout=LONG,
        check=False,
    )

    assert done.returncode == 2
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1
    assert "jigplate check" in done.stderr


@pytest.mark.skipif(sys.platform == "win32", reason="plays Ctrl+C by a signal")
@pytest.mark.parametrize("words", [[], [str(DEMO)]], ids=["no file", "demo car"])
def test_it_comes_up_and_ends_cleanly_when_interrupted(tmp_path: Path, words: list[str]) -> None:
    with (tmp_path / "said").open("w") as said:
        started = subprocess.Popen(
            [sys.executable, "-m", "app", *words],
            env=environment(tmp_path / "settings"),
            stdout=said,
            stderr=subprocess.STDOUT,
        )
        try:
            # The log of faults is opened when everything is put together.
            wait_for(tmp_path / "settings" / "jigplate.faults.log")
            time.sleep(2.0)
            started.send_signal(signal.SIGINT)
            code = started.wait(LONG)
        finally:
            started.kill()
            started.wait()

    assert code == 130
    assert (tmp_path / "said").read_text() == ""
    log = tmp_path / "settings" / "jigplate.log"
    assert not log.exists() or log.read_text() == ""


def wait_for(file: Path) -> None:
    until = time.monotonic() + LONG
    while not file.exists():
        assert time.monotonic() < until
        time.sleep(0.05)
