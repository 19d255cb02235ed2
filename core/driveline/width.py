"""The chain of lengths from the bell-housing face to the wheel plane, one side."""

from dataclasses import dataclass

from core.driveline.shaft import ShaftDoesNotReachError, shaft_pose
from core.driveline.sides import DriveSide, outboard, outboard_sign
from core.geometry.types import unit


@dataclass(frozen=True, slots=True)
class ChainLink:
    """One length of the chain.

    Attributes:
        name: what fixes the length.
        from_what: where it starts.
        to_what: where it ends.
        y: the length straight across the car, positive outboard, mm.
        total: from the centre plane to where it ends, positive outboard, mm.
    """

    name: str
    from_what: str
    to_what: str
    y: float
    total: float


def width_chain(drive: DriveSide) -> tuple[ChainLink, ...]:
    """What adds up to the place of the wheel plane, from the centre plane outwards.

    The wheel plane stands where the rim's centre plane meets the spin axis: with camber this is not
    yet the track at the ground.

    Raises:
        ShaftDoesNotReachError: if the shaft cannot span from the slide axis to the outer joint.
        ValueError: if a direction or the length is nonsense.
    """
    across, slid = _shaft_across(drive)
    spin_y = float(unit(outboard(drive.spin_axis, drive.side))[1])
    sign = outboard_sign(drive.side)
    face, inner = sign * drive.bell_housing_face_y, sign * drive.inner_joint[1]
    return _running(
        ("bell-housing face", "centre plane", "bell-housing face", face),
        ("inner joint", "bell-housing face", "inner joint centre at mid-stroke", inner - face),
        ("plunge as drawn", "inner joint centre at mid-stroke", "sliding centre", slid),
        ("shaft at its slope", "sliding centre", "outer joint centre", across),
        ("hub depth", "outer joint centre", "hub face", drive.joint_to_hub_face * spin_y),
        ("spacer", "hub face", "wheel mounting face", drive.spacer * spin_y),
        ("wheel offset", "wheel mounting face", "wheel plane", -drive.wheel_offset * spin_y),
    )


def wheel_plane(drive: DriveSide) -> float:
    """Drawn place of the wheel plane on the spin axis, mm outboard of the centre plane."""
    return outboard_sign(drive.side) * drive.outer_joint[1] + joint_to_wheel_plane(drive)


def joint_to_wheel_plane(drive: DriveSide) -> float:
    """Straight across the car from the outer joint centre to the wheel plane, mm outboard.

    Wheel centre = hub face + (spacer - ET) along the spin axis; the outer joint lies its depth
    behind the hub face on the same axis.
    """
    spin_y = float(unit(outboard(drive.spin_axis, drive.side))[1])
    return (drive.joint_to_hub_face + drive.spacer - drive.wheel_offset) * spin_y


def _shaft_across(drive: DriveSide) -> tuple[float, float]:
    """How much of the way across is shaft, and how much is slide of the inner joint."""
    places = [outboard(place, drive.side) for place in (drive.inner_joint, drive.slide_axis)]
    outer, spin = outboard(drive.outer_joint, drive.side), outboard(drive.spin_axis, drive.side)
    pose = shaft_pose(places[0], places[1], outer, spin, drive.shaft_length)
    if not pose.reaches:
        raise ShaftDoesNotReachError((0,), (float(pose.shortfall),))
    slide_y = float(unit(places[1])[1])
    return drive.shaft_length * float(pose.direction[1]), float(pose.plunge) * slide_y


def _running(*links: tuple[str, str, str, float]) -> tuple[ChainLink, ...]:
    """The links with the total so far beside each."""
    chain: list[ChainLink] = []
    total = 0.0
    for name, from_what, to_what, y in links:
        total += y
        chain.append(ChainLink(name, from_what, to_what, y, total))
    return tuple(chain)
