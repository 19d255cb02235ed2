"""All that is told of the loads of a corner, asked for at once."""

from collections.abc import Mapping
from dataclasses import dataclass

from core.assess.load_extremes import Extremes, extremes, loads_told
from core.assess.loads import CornerLoads, corner_loads, left_out
from core.assess.pick_ups import TubesThere, tubes_at
from core.assess.wheel_forces import Name
from core.document.base import Ref
from core.engine.cells import NotComputedError, Reader, When, cell


@dataclass(frozen=True, eq=False)
class LoadReport:
    """The loads of a corner.

    Attributes:
        loads: forces of each load that is known.
        unknown: the others, each with why.
        most: the greatest forces.
        tubes: at each pick-up, or why that is not known.
        left_out: what is taken for granted or left out, as sentences.
    """

    loads: Mapping[Name, CornerLoads]
    unknown: tuple[tuple[Name, str], ...]
    most: Extremes
    tubes: Mapping[Ref, TubesThere | str]
    left_out: tuple[str, ...]


@cell(When.RELEASE)
def load_report(read: Reader, corner: Ref) -> LoadReport:
    """All that is told of the loads of a corner.

    Raises:
        NotComputedError: none of its loads is known; why the first is not.
    """
    most, told = read(extremes, corner), read(loads_told, corner)
    loads = {name: read(corner_loads, corner, name) for name in told.known}
    tubes = {at: _tubes(read, at) for at, _ in most.on_chassis}
    return LoadReport(loads, told.unknown, most, tubes, read(left_out, corner))


def _tubes(read: Reader, at: Ref) -> TubesThere | str:
    try:
        return read(tubes_at, at)
    except NotComputedError as error:
        return str(error)
