"""`why`: where a value comes from, what holds it, and what rests on it."""

from pathlib import Path

from app.cli.car import load
from app.cli.naming import address_of
from app.cli.saying import say, warn
from core.checks.rules import assess_all
from core.document.lookup import Lookup
from core.study.why import why


def run(file: Path, text: str) -> int:
    """Print why a value is what it is; return 0.

    Raises:
        JigplateError: the file cannot be read, or nothing is at the address.
    """
    car = load(file)
    warn(car.warnings)
    address = address_of(Lookup(car.drawn), text)
    say(why(assess_all(car.drawn, car.meshes), address))
    return 0
