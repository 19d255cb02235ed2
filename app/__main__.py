"""The command line: `python -m app`, or `jigplate` where it is installed.

With a file alone, or nothing, it opens the window; the other commands draw nothing.

Exit codes: 0 nothing fails and all is known; 1 something fails; 2 the file, the table or the words
of the command cannot be used, or the answer not be written; 3 nothing fails but something is not
known; 70 a fault of the program itself, told in full; 130 stopped by the person.
"""

import argparse
import sys
import traceback
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path
from typing import Any

from app import __version__
from app.cli.saying import say, warn
from core.document.errors import JigplateError

UNUSABLE = 2
OWN_FAULT = 70  # EX_SOFTWARE of sysexits.h; never 1, which says that the car fails
STOPPED = 130  # 128 and the number of SIGINT, as shells tell it

CODES = (
    "exit codes: 0 nothing fails and all is known; 1 something fails; 2 cannot be read, used or "
    "written; 3 nothing fails but something is not known; 70 a fault of the program"
)


def main(words: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code.

    Args:
        words: what stands behind the program's name; none for those of this process.
    """
    try:
        return _run(_parser().parse_args(_with_command(sys.argv[1:] if words is None else words)))
    except JigplateError as error:
        warn([str(error)])
        return UNUSABLE
    except KeyboardInterrupt:
        return STOPPED
    except Exception:  # noqa: BLE001 - the last place that can tell a fault of the program itself
        warn(traceback.format_exc().splitlines())
        return OWN_FAULT


COMMANDS = ("open", "check", "assess", "export", "why", "fault")


def _with_command(words: Sequence[str]) -> list[str]:
    """The words with `open` before them where they name a file or nothing."""
    is_command = bool(words) and (words[0] in COMMANDS or words[0].startswith("-"))
    return list(words) if is_command else ["open", *words]


def _run(arguments: argparse.Namespace) -> int:
    """Import the command that was asked for, and run it."""
    if arguments.command == "open":
        from app import gui

        return gui.run(arguments.file)
    if arguments.command == "check":
        from app.cli import check

        return check.run(arguments.file)
    if arguments.command == "assess":
        from app.cli import assess

        return assess.run(arguments.file, arguments.output, everything=arguments.all)
    if arguments.command == "export":
        return _export(arguments)
    if arguments.command == "why":
        from app.cli import why

        return why.run(arguments.file, arguments.address)
    from app.cli import fault

    return fault.run_list() if arguments.list else fault.run(arguments.file, arguments.name)


def _export(arguments: argparse.Namespace) -> int:
    from app.cli import export

    day = arguments.date or datetime.now().astimezone().date()
    if arguments.table == "donors":
        standing: bool = arguments.standing
        return export.run_donors(arguments.file, arguments.output, day, standing=standing)
    wanted = export.Wanted(arguments.output, arguments.datum, day, arguments.unit)
    return export.run_hardpoints(arguments.file, wanted)


class _Parser(argparse.ArgumentParser):
    """A parser whose help goes where answers go, and is told of where it cannot."""

    def print_help(self, file: Any = None) -> None:  # noqa: ANN401 - its type has no name at run time
        """Write the help."""
        if file is None:
            say(self.format_help().splitlines())
        else:
            super().print_help(file)


class _Version(argparse.Action):
    """Says the version and ends the program."""

    def __call__(self, parser: argparse.ArgumentParser, *_: object) -> None:
        """Write the version."""
        say([f"Jigplate {__version__}"])
        parser.exit()


def _parser() -> argparse.ArgumentParser:
    parser = _Parser(
        prog="jigplate",
        description="Lay out the chassis, suspension and driveline of a one-off car.",
        epilog=CODES,
    )
    shown = "show program's version number and exit"
    parser.add_argument("--version", action=_Version, nargs=0, help=shown)
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    opened = commands.add_parser("open", help="the window, with a car in it (the usual thing)")
    opened.add_argument("file", type=Path, nargs="?", help="a .jigplate file")
    check = commands.add_parser("check", help="what to look at in a car, worst first")
    _add_file(check)
    _add_assess(commands.add_parser("assess", help="the whole assessment of a car as JSON"))
    _add_export(commands.add_parser("export", help="tables for the workshop"))
    why = commands.add_parser("why", help="where a value comes from and what rests on it")
    _add_file(why)
    why.add_argument("address", help="as K_L.at.y: a name or an id, and what of it")
    _add_fault(commands.add_parser("fault", help="what a known fault makes worse in a car"))
    return parser


def _add_file(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("file", type=Path, help="a .jigplate file")


def _add_assess(parser: argparse.ArgumentParser) -> None:
    _add_file(parser)
    parser.add_argument("--all", action="store_true", help="every value, and what it rests on")
    parser.add_argument("--output", type=Path, help="write to this file")


def _add_export(parser: argparse.ArgumentParser) -> None:
    tables = parser.add_subparsers(dest="table", required=True, metavar="TABLE")
    points = tables.add_parser("hardpoints", help="every hardpoint of the car")
    _add_file(points)
    points.add_argument("output", type=Path, help="file to write, .csv or .xlsx")
    points.add_argument("--datum", metavar="NAME", help="datum to measure from (default: the car)")
    points.add_argument("--unit", choices=("mm", "in"), default="mm", help="default: mm")
    donors = tables.add_parser("donors", help="corners of donor cars on the same axes")
    _add_file(donors)
    donors.add_argument("output", type=Path, help="file to write, .csv or .xlsx")
    donors.add_argument("--standing", action="store_true", help="how they stood, not their points")
    for table in (points, donors):
        table.add_argument("--date", type=_date, metavar="YYYY-MM-DD", help="default: today")


def _add_fault(parser: argparse.ArgumentParser) -> None:
    _add_file(parser)
    which = parser.add_mutually_exclusive_group(required=True)
    which.add_argument("name", nargs="?", help="which fault")
    which.add_argument("--list", action="store_true", help="show every fault there is")


def _date(text: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = None
    if day is None or day.isoformat() != text:
        msg = f"«{text}» is no date written as 2031-05-17"
        raise argparse.ArgumentTypeError(msg)
    return day


if __name__ == "__main__":
    sys.exit(main())
