"""What the strip says of how the car is shown: in what position, and what does not go there."""

from app.pose import Place
from core.quantities import number
from core.scene.posed import PosedCar, PosedCorner, UnknownWheel

DESIGN_POSITION = "design position"
NOTHING_MOVES = "don't know: nothing moves yet; enter the corners with their stops"
NO_STOPS = "don't know how far the wheels go: enter their droop and bump"
STILL_DESIGN = "handles still give the design position"


def place_words(place: Place) -> str:
    """Return in what position the car is shown."""
    told: list[str] = []
    if place.bump:
        told.append(f"wheels {_amount(place.bump)} {'up' if place.bump > 0.0 else 'down'}")
    if place.roll_deg:
        side = "left" if place.roll_deg > 0.0 else "right"
        told.append(f"rolled {_amount(place.roll_deg)}°, {side} side up")
    if place.rack:
        told.append(f"rack {_amount(place.rack)} {'left' if place.rack > 0.0 else 'right'}")
    if place.drop:
        told.append(f"engine {number(place.drop, 0)} out")
    return f"{', '.join(told)}; {STILL_DESIGN}" if told else DESIGN_POSITION


def _amount(value: float) -> str:
    return number(abs(value), 1).removesuffix(".0")


def is_known(car: PosedCar) -> bool:
    """Whether it is known of any wheel where it goes, and how far."""
    has_range = car.ends.low < 0.0 or car.ends.high > 0.0
    return has_range and any(isinstance(each, PosedCorner) for each in car.corners)


def said_of(car: PosedCar) -> str:
    """Return which wheels do not go where they are asked to, and why; nothing if all do."""
    if not car.corners:
        return NOTHING_MOVES
    unknown = [each for each in car.corners if isinstance(each, UnknownWheel)]
    told = [f"{_names(names)}: don't know, because {why}" for why, names in _by_why(unknown)]
    if not is_known(car):
        return "; ".join((*told, *([NO_STOPS] if len(unknown) < len(car.corners) else [])))
    stopped = [each.standing for each in car.corners if isinstance(each, PosedCorner)]
    grouped: dict[str, list[str]] = {}
    for standing in stopped:
        if standing.stopped:
            grouped.setdefault(standing.stopped, []).append(standing.name)
    told += [f"{_names(names)}: {why}" for why, names in grouped.items()]
    return "; ".join((*told, *car.amiss))


def _by_why(unknown: list[UnknownWheel]) -> list[tuple[str, list[str]]]:
    grouped: dict[str, list[str]] = {}
    for each in unknown:
        grouped.setdefault(each.why, []).append(each.name)
    return list(grouped.items())


def _names(names: list[str]) -> str:
    return " and ".join(names) if len(names) < 3 else f"{', '.join(names[:-1])} and {names[-1]}"


def why_unknown(car: PosedCar) -> str:
    """Return why the wheels cannot be moved at all."""
    return said_of(car) or NO_STOPS
