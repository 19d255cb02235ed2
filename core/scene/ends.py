"""How far the wheels and the rack can be moved: between which ends, and what is not known."""

from dataclasses import dataclass

from core.assess.travels import rack_of, used_rack
from core.document.base import Ref
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.quantities import number
from core.scene.standing import stops


@dataclass(frozen=True)
class Stop:
    """A stop as it is entered, and of which ends of the car.

    Attributes:
        at: mm from design, up above zero.
        ends: such as «front»; empty where it is that of every wheel.
    """

    at: float
    ends: tuple[str, ...]


@dataclass(frozen=True)
class Ends:
    """How far things can be moved.

    Attributes:
        droops: stops below, the furthest first; none where none is known.
        bumps: stops above, the furthest first.
        rack: how far it goes each way, mm; None where that is not known, or nothing steers.
        no_rack: why not.
    """

    droops: tuple[Stop, ...] = ()
    bumps: tuple[Stop, ...] = ()
    rack: float | None = None
    no_rack: str = ""

    @property
    def low(self) -> float:
        """The furthest droop, mm, not above zero."""
        return min((stop.at for stop in self.droops), default=0.0)

    @property
    def high(self) -> float:
        """The furthest bump, mm."""
        return max((stop.at for stop in self.bumps), default=0.0)


@cell(When.LIVE)
def ends_of_car(read: Reader) -> Ends:
    """How far the wheels and the rack can be moved."""
    corners = read.all(Corner)
    entered = [(_end(read, corner), *read(stops, corner)) for corner in corners]
    droops = [(end, -droop) for end, droop, _ in entered if droop is not None]
    bumps = [(end, bump) for end, _, bump in entered if bump is not None]
    rack, why = _rack(read, corners)
    return Ends(_stops(droops, -1.0), _stops(bumps, 1.0), rack, why)


def _end(read: Reader, corner: Ref) -> str:
    axle = read.thing(Corner, corner).axle
    return read.thing(Axle, axle).end if read.has(Axle, axle) else read.label(corner)


def _stops(found: list[tuple[str, float]], way: float) -> tuple[Stop, ...]:
    """The stops one way by how far, each with the ends of the car that have it."""
    places = sorted({at for _, at in found}, key=lambda at: -way * at)
    if len(places) == 1:
        return (Stop(places[0], ()),)
    return tuple(
        Stop(at, tuple(dict.fromkeys(end for end, its in found if its == at))) for at in places
    )


def _rack(read: Reader, corners: tuple[Ref, ...]) -> tuple[float | None, str]:
    """The least that a rack goes each way, so that none is shown past its own end."""
    steered = [corner for corner in corners if read(rack_of, corner) is not None]
    try:
        used = [read(used_rack, corner) for corner in steered]
    except NotComputedError as error:
        return None, str(error)
    return (min(used), "") if used else (None, "nothing is entered that steers the wheels")


def stop_words(kind: str, found: tuple[Stop, ...]) -> str:
    """Return what to write at stops, such as «bump stop +70» or «bump +70 rear, +60 front»."""
    if not found:
        return f"{kind} stop not entered"
    if len(found) == 1:
        return f"{kind} stop {_signed(found[0].at)}"
    return f"{kind} {', '.join(' '.join([_signed(stop.at), *stop.ends]) for stop in found)}"


def _signed(at: float) -> str:
    return f"+{number(at, 0)}" if at > 0.0 else number(at, 0)
