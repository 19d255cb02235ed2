"""`assess`: the whole assessment of a car as JSON."""

from pathlib import Path

from app.cli.car import PROGRAM, load
from app.cli.check import exit_code
from app.cli.saying import say_bytes, warn
from core.checks.rules import assess_all, to_look_at
from core.document.codec import SUFFIX
from core.document.errors import FileRefusedError
from core.workshop.figures import figures
from core.workshop.files import replace_file
from core.workshop.plain import assessment_as_plain, json_bytes


def run(file: Path, output: Path | None, *, everything: bool) -> int:
    """Print or write the assessment, and return the same exit code as a check.

    Raises:
        JigplateError: the file cannot be read, or the other one not written.
    """
    _refuse_project(output)
    car = load(file)
    warn(car.warnings)
    assessment = assess_all(car.drawn, car.meshes, also=(figures,))
    data = json_bytes(assessment_as_plain(assessment, PROGRAM, everything=everything))
    if output is None:
        say_bytes(data)
    else:
        _write(output, data)
    return exit_code(to_look_at(assessment))


def _refuse_project(output: Path | None) -> None:
    if output is not None and output.suffix.lower() == SUFFIX:
        msg = f"{output} ends as a project does; give the assessment another name"
        raise FileRefusedError(msg)


def _write(output: Path, data: bytes) -> None:
    try:
        replace_file(output, lambda stream: stream.write(data))
    except OSError as error:
        msg = f"{output} cannot be written: {error.strerror or error}"
        raise FileRefusedError(msg) from error
