"""Tables and sentences about the weight of a car."""

from collections.abc import Sequence
from typing import get_args

from app.widgets.figure_table import Table
from core.assess.masses import Group
from core.assess.on_wheels import OnWheels
from core.assess.transfer import InCorner
from core.assess.weights import HOW_SPLIT, Weight
from core.balance.masses import GRAVITY
from core.balance.transfer import AxleTransfer
from core.quantities import number
from core.workshop.transfer_figures import FOR_GRANTED
from core.workshop.weight_page import Height, Load, Scales

GROUPS: tuple[str, ...] = get_args(Group)
UNKNOWN = "?"
MIDDLE = 0.5
"""mm within which the centre of gravity counts as in the middle of the car."""


def kg(value: float | None, digits: int = 1) -> str:
    """A weight, or a question mark."""
    return UNKNOWN if value is None else number(value, digits)


def loads_table(loads: Sequence[Load]) -> Table:
    """What the car weighs and where, load by load."""
    head = ("load", "kg", "behind front", "height", "on rear")
    return Table(head, tuple(_row(load) for load in loads), 1)


def _row(load: Load) -> tuple[str, ...]:
    found = load.found
    if found is None:
        return (load.name, *[UNKNOWN] * 4)
    height = UNKNOWN if found.height is None else number(found.height, 0)
    return (
        load.name,
        number(found.mass_kg, 1),
        number(found.behind_front, 0),
        height,
        f"{number(found.rear_percent, 1)} %",
    )


def wheels_table(found: OnWheels) -> Table:
    """What each wheel and axle carries, kg."""
    front_left, front_right, rear_left, rear_right = found.corners
    front = ("front", kg(front_left), kg(front_right), kg(found.front_kg))
    rear = ("rear", kg(rear_left), kg(rear_right), kg(found.rear_kg))
    sides = (front_left + rear_left, front_right + rear_right, found.mass_kg)
    both = ("both", *(kg(each) for each in sides))
    return Table(("kg", "left", "right", "axle"), (front, rear, both), 3)


def where_words(found: OnWheels) -> str:
    """Where the centre of gravity is, as a builder would say it, and how that is known."""
    side = "in the middle"
    if abs(found.y) > MIDDLE:
        side = f"{number(abs(found.y), 0)} {'left' if found.y > 0.0 else 'right'} of the middle"
    height = "its height is not known"
    if found.height is not None:
        height = f"{number(found.height, 0)} over the ground"
    where = "behind" if found.behind_front >= 0.0 else "ahead of"
    return (
        f"Centre of gravity {number(abs(found.behind_front), 0)} {where} the front axle, "
        f"{side}, {height}."
    )


def how_words(found: OnWheels) -> str:
    """What the figures of a load rest on."""
    if not found.is_weighed:
        return f"By the sum of all weights, {HOW_SPLIT}."
    height = "by tilting" if found.is_height_weighed else "by the sum of all weights"
    return f"Off scales; the height {height}."


def at_least_words(weight: Weight) -> str:
    """What is weighed so far, where the whole is not known."""
    if not weight.least_kg:
        return ""
    return f"At least {number(weight.least_kg, 1)} kg: {groups_words(weight)}."


def groups_words(weight: Weight) -> str:
    """What weighs how much, group by group."""
    return ", ".join(f"{group} {number(each, 1)}" for group, each in weight.groups if each)


def scales_table(scales: Sequence[Scales]) -> Table:
    """Every wheel off scales beside the sum of all weights."""
    return Table(
        ("kg", "scales", "sum", "apart"), tuple(_scales(each) for each in scales if each.weighed), 1
    )


def _scales(each: Scales) -> tuple[str, ...]:
    assert each.weighed is not None
    apart = None if each.summed_kg is None else each.weighed.kg - each.summed_kg
    told = UNKNOWN if apart is None else f"{'+' if apart > 0.0 else ''}{number(apart, 1)}"
    return each.name, kg(each.weighed.kg), kg(each.summed_kg), told


def mirrored_words(scales: Sequence[Scales]) -> str:
    """Which wheels take the figure of the other side; empty if none does."""
    names = [each.name for each in scales if each.weighed and each.weighed.by == "other wheel"]
    if not names:
        return ""
    told = " and ".join(names)
    one, more = "has no weight of its own: it takes", "have none of their own: they take"
    have = one if len(names) == 1 else more
    return f"{told} {have} that of the left wheel."


def height_words(height: Height) -> str:
    """The height by tilting, its doubt, and how far off the sum of all weights is."""
    if height.why:
        return f"Height by tilting: don't know, because {height.why}."
    found = height.tilted
    if found is None:
        return ""
    doubt = "" if found.plus_minus is None else f" \N{PLUS-MINUS SIGN}{number(found.plus_minus, 0)}"
    words = (
        f"By tilting {number(found.angle_deg, 1)}° the height is {number(found.height, 0)}{doubt}"
    )
    if height.summed is not None:
        apart = found.height - height.summed
        way = "higher" if apart > 0.0 else "lower"
        words += f", {number(abs(apart), 0)} {way} than by the sum of all weights"
    slope = (
        f"{number(abs(found.per_kg), 0)} for each kg misread, {number(abs(found.per_mm), 1)} for"
    )
    return f"{words}. It moves {slope} each mm the tail was misread."


def without_words(name: str, weight: Weight, whole: Weight) -> str:
    """What the car weighs without one thing."""
    if weight.unknown_because:
        return f"Without {name}: don't know, because {weight.unknown_because}."
    assert weight.centre is not None
    words = f"Without {name} the car weighs {number(weight.least_kg, 1)} kg"
    if whole.centre is None or whole.unknown_because:
        return f"{words}."
    ahead = weight.centre.x - whole.centre.x
    up = weight.centre.z - whole.centre.z
    return (
        f"{words}; its centre of gravity comes {number(abs(ahead), 0)} "
        f"{'forward' if ahead > 0.0 else 'back'} and {number(abs(up), 0)} "
        f"{'up' if up > 0.0 else 'down'}."
    )


def moved_table(found: InCorner) -> Table:
    """Load that moves to the outer wheels for each g, and how it gets there, kg."""
    rows = (_moved("front", found.front), _moved("rear", found.rear))
    return Table(("kg for each g", "springs", "links", "wheels", "all"), rows, 4)


def _moved(end: str, moved: AxleTransfer) -> tuple[str, ...]:
    parts = (moved.elastic, moved.geometric, moved.unsprung, moved.whole)
    return (end, *(kg(each / GRAVITY) for each in parts))


def corner_words(found: InCorner) -> str:
    """Roll, the share of the front axle, and which wheel first carries nothing."""
    words = (
        f"The body rolls {number(found.roll_deg_per_g, 1)}° for each g; "
        f"{number(100.0 * found.front_share, 0)} % of what moves does so at the front."
    )
    if found.lifts_at_g < LOTS_G:
        words += f" By this the inner {found.lifts} wheel carries nothing at "
        words += f"{number(found.lifts_at_g, 1)} g, if the tyres grip that well."
    return words


LOTS_G = 3.0
"""A corner beyond what a tyre on a road grips."""


def granted_words(found: InCorner) -> str:
    """What is taken for granted of a corner."""
    tyres = "tyres as soft as entered" if found.has_tyres else "tyres taken for stiff"
    springs = "" if found.is_exact else ", the force in the springs left out"
    return f"Taken for granted: {FOR_GRANTED}; {tyres}{springs}."


def shift_words(shift: float) -> str:
    """Load that moves to the front axle under braking."""
    return (
        f"Braking moves {number(shift / GRAVITY, 1)} kg from the rear to the front axle for each "
        "g; springs and links do not change that."
    )
