"""Rigid axles on every kind of linkage, for the tests."""

import numpy as np

from core.geometry.types import Array, unit
from core.suspension.constraints import AxleConstraint, Guide, Held, Rod, Slide, Slot, Watt
from core.suspension.linkage import WheelAtDesign
from core.suspension.rigid_axle import RigidAxle
from tests.core.suspension.corners import vec
from tests.oracles.rigid_axle import PlainAxle

AXLE_X, RADIUS, HALF = -2400.0, 300.0, 700.0
LEFT = WheelAtDesign(vec(AXLE_X, HALF, RADIUS), vec(0.0, 1.0, 0.0), RADIUS)
RIGHT = WheelAtDesign(vec(AXLE_X, -HALF, RADIUS), vec(0.0, -1.0, 0.0), RADIUS, "right")
X, Y, Z = np.eye(3)
LINK = 450.0
PANHARD = Rod("Panhard rod", vec(AXLE_X - 60.0, 480.0, 260.0), vec(AXLE_X - 60.0, -420.0, 260.0))
HEAVES = np.linspace(-80.0, 80.0, 9)


def axle(*held: AxleConstraint) -> RigidAxle:
    return RigidAxle(held, LEFT, RIGHT)


def trailing(name: str, y: float, z: float, length: float = LINK) -> Rod:
    """A level link along the car, ahead of the axle."""
    return Rod(name, vec(AXLE_X + length, y, z), vec(AXLE_X, y, z))


def three_parallel() -> tuple[Rod, ...]:
    lower = trailing("lower left", 520.0, 180.0), trailing("lower right", -520.0, 180.0)
    return (*lower, trailing("upper middle", 0.0, 430.0))


def endless() -> tuple[Slot, ...]:
    """Trailing links of no end: three points that stay in planes across the car."""
    places = (vec(AXLE_X, 500.0, 200.0), vec(AXLE_X, -500.0, 200.0), vec(AXLE_X, 0.0, 450.0))
    return tuple(Slot(f"slot {k}", place, X) for k, place in enumerate(places))


def triangulated(upper_splay: float = 260.0, lower_splay: float = 0.0) -> RigidAxle:
    """Two lower links and two upper ones, which meet over the axle, with symmetrical ends."""
    rods = []
    for side, sign in (("left", 1.0), ("right", -1.0)):
        lower = vec(AXLE_X + 520.0, sign * (480.0 + lower_splay), 190.0)
        upper = vec(AXLE_X + 300.0, sign * (60.0 + upper_splay), 410.0)
        rods += [
            Rod(f"lower {side}", lower, vec(AXLE_X + 20.0, sign * 480.0, 170.0)),
            Rod(f"upper {side}", upper, vec(AXLE_X - 30.0, sign * 60.0, 440.0)),
        ]
    return axle(*rods)


def meets(rod: Rod) -> Array:
    """Where the line of a rod meets the centre plane, and so that of its mirror image."""
    share = rod.outer[1] / (rod.outer[1] - rod.inner[1])
    return np.asarray(rod.outer + share * (rod.inner - rod.outer))


def watt_linkage(pivot: Array, arm: float = 70.0, reach: float = 420.0) -> Watt:
    """An upright rocker with a level rod to either side."""
    top, bottom = pivot + arm * Z, pivot - arm * Z
    first = Rod("upper rod", top + reach * Y, top)
    return Watt("Watt's linkage", pivot, X, first, Rod("lower rod", bottom - reach * Y, bottom))


PIVOT = vec(AXLE_X - 80.0, 0.0, 330.0)
BALL = vec(AXLE_X + 900.0, 0.0, 340.0)


def kinds() -> dict[str, RigidAxle]:
    """Every way of holding an axle that is tried here."""
    lower = triangulated().constraints[0], triangulated().constraints[2]
    apex = vec(AXLE_X - 10.0, 0.0, 460.0)
    frame = [Rod(f"frame {y}", vec(AXLE_X + 380.0, y, 440.0), apex) for y in (-250.0, 250.0)]
    return {
        "three links and Panhard rod": axle(*three_parallel(), PANHARD),
        "triangulated": triangulated(),
        "torque tube": axle(Held("ball", BALL), PANHARD),
        "A-frame": axle(*lower, *frame),
        "Watt": axle(*three_parallel(), watt_linkage(PIVOT)),
        "guide": axle(*lower, Guide("block", vec(AXLE_X, 0.0, 330.0), Z + 0.1 * X)),
        "tube that slides": axle(
            *lower, Slide("tube", vec(AXLE_X, 0.0, 360.0), BALL + vec(0.0, 0.0, 40.0))
        ),
    }


NAMES = tuple(kinds())


def plain(of: RigidAxle) -> PlainAxle:
    """The same axle for the general solver."""
    rods, held, planes, rockers = [], [], [], []
    for each in of.constraints:
        match each:
            case Rod(_, inner, outer):
                rods.append((inner, outer))
            case Held(_, place):
                held.append(place)
            case Slot(_, point, normal):
                planes.append((point, normal))
            case Watt(_, pivot, axis, first, second):
                rockers.append((pivot, axis, first.inner, first.outer, second.inner, second.outer))
            case _:
                raise AssertionError(each)
    wheels = of.left.centre, of.right.centre
    return PlainAxle(*wheels, tuple(rods), tuple(held), tuple(planes), tuple(rockers))


def shaken(seed: int, by: float, ends: float = 30.0) -> RigidAxle:
    """A triangulated axle whose rods are drawn at random about those of the example."""
    numbers = np.random.default_rng(seed)
    rods = [rod for rod in triangulated().constraints if isinstance(rod, Rod)]
    moved = (
        Rod(r.name, r.inner + numbers.uniform(-by, by, 3), r.outer + numbers.uniform(-by, by, 3))
        for r in rods
    )
    lift = numbers.uniform(-ends, ends, 2) * 0.3
    left = WheelAtDesign(LEFT.centre + lift[0] * Z, unit(vec(0.02, 1.0, -0.03)), RADIUS)
    right = WheelAtDesign(RIGHT.centre + lift[1] * X, RIGHT.spin_axis, 305.0, "right")
    return RigidAxle(tuple(moved), left, right)
