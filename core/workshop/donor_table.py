"""Donors beside one another, on the same axes: how high they stood, on what, and their points."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import sqrt
from typing import Final

from core.document.base import Ref, Vec3
from core.document.donors import DonorCorner
from core.document.facts import fact_at
from core.document.project import Document
from core.driveline.tyre import MM_PER_INCH, tyre_size
from core.edits.donor_places import hub_face_from_datum, places, spin_axis
from core.edits.finding_things import piece_of
from core.workshop.table import Cell, Column, Table

AXES: Final = (
    "From the hub face centre of each donor: x ahead and y outboard along its axes, z up; the "
    "ground is that below its own tyre, as it stood."
)


@dataclass(frozen=True)
class DonorPlace:
    """A point of a donor on the common axes.

    Attributes:
        role: what it does there.
        at: from the hub face centre, x ahead, y outboard, z up, mm; none if not known.
        above_ground: mm, as the donor stood; none if not known.
        uncertainty: likely error of the worst of its three numbers, mm; none if not stated.
    """

    role: str
    at: Vec3 | None
    above_ground: float | None
    uncertainty: float | None


@dataclass(frozen=True)
class DonorFigures:
    """A donor as it stood; mm and deg, none where it is not known.

    Attributes:
        ref: the donor's corner.
        donor: what was measured.
        rim_diameter: by the tyre's size.
        free_diameter: of the tyre, unloaded, by the rule of its size.
        hub_face_height: above the ground.
        hub_face_outboard: of the donor's centre plane, from its track.
        ride_above_hub: the mark on the body, from the hub face centre up.
        points: in the order they were measured in.
    """

    ref: Ref
    donor: DonorCorner
    rim_diameter: float | None
    free_diameter: float | None
    hub_face_height: float | None
    hub_face_outboard: float | None
    ride_above_hub: float | None
    points: tuple[DonorPlace, ...]


def on_same_axes(document: Document, donors: Sequence[Ref]) -> tuple[DonorFigures, ...]:
    """Donors in the order given, each with its points from its own hub face centre.

    Raises:
        EditRefusedError: one of them is no donor's corner.
    """
    return tuple(_figures(ref, piece_of(document, DonorCorner, ref)) for ref in donors)


def _figures(ref: Ref, donor: DonorCorner) -> DonorFigures:
    rim, free = _diameters(donor.tyre_size)
    height = _hub_face_height(donor)
    ride = donor.ride_height
    above = None if ride is None or height is None else ride - height
    points = tuple(_points(donor, height))
    return DonorFigures(ref, donor, rim, free, height, _outboard(donor), above, points)


def _diameters(size: str) -> tuple[float | None, float | None]:
    """Rim and free tyre diameter; nothing for what is no size."""
    try:
        found = tyre_size(size)
    except ValueError:
        return None, None
    return found.rim_code * MM_PER_INCH, found.diameter


def _hub_face_height(donor: DonorCorner) -> float | None:
    """From the measured height, else from the loaded radius, which is the wheel centre's height."""
    face = hub_face_from_datum(donor)
    if donor.hub_height is not None:
        return None if face is None else donor.hub_height + face.z
    if donor.loaded_radius is None or donor.wheel_offset is None:
        return None
    return donor.loaded_radius + donor.wheel_offset * spin_axis(donor).z


def _outboard(donor: DonorCorner) -> float | None:
    """The hub face centre from the centre plane: half the track, but for the lean of the wheel."""
    height, offset = _hub_face_height(donor), donor.wheel_offset
    if donor.track is None or offset is None or height is None:
        return None
    spin = spin_axis(donor)
    radius = height - offset * spin.z
    contact = radius * spin.z * spin.y / sqrt(1.0 - spin.z**2)  # outboard of the wheel centre
    return donor.track / 2 - contact + offset * spin.y


def _points(donor: DonorCorner, height: float | None) -> Iterator[DonorPlace]:
    known = places(donor) or {}
    for point in donor.points:
        at = known.get(point.role)
        above = None if at is None or height is None else at.z + height
        yield DonorPlace(point.role, at, above, _uncertainty(donor, point.role))


def _uncertainty(donor: DonorCorner, role: str) -> float | None:
    """Of the worst of three numbers; nothing unless all three are stated."""
    facts = [fact_at(donor, "one", f"points.{role}.at.{axis}") for axis in Vec3._fields]
    stated = [f.uncertainty for f in facts if f is not None and f.uncertainty is not None]
    return max(stated) if len(stated) == len(facts) else None


def standing_table(donors: Sequence[DonorFigures]) -> Table:
    """How each donor stood, a line each."""
    return Table(
        "Donors as they stood",
        (),
        (
            *(Column(title, "", "text") for title in ("Donor", "End", "Side", "Linkage", "Tyre")),
            *(Column(title, "mm", "number", 1) for title in _LENGTHS),
            Column("Camber", "deg", "number", 2),
            Column("Toe-in", "deg", "number", 2),
            Column("How it stood", "", "text"),
        ),
        tuple(_standing_row(each) for each in donors),
        (),
    )


_LENGTHS: Final = (
    "Rim diameter",
    "Free tyre diameter",
    "Loaded radius",
    "Hub face above ground",
    "Body above ground",
    "Body above hub face",
    "Track",
    "Hub face outboard",
)


def _standing_row(each: DonorFigures) -> tuple[Cell, ...]:
    donor = each.donor
    stood = None if donor.stood is None else donor.stood.replace("_", " ")
    linkage = donor.linkage.replace("_", " ")
    return (
        *(donor.name, donor.end, donor.side, linkage, donor.tyre_size or None),
        *(each.rim_diameter, each.free_diameter, donor.loaded_radius),
        *(each.hub_face_height, donor.ride_height, each.ride_above_hub),
        *(donor.track, each.hub_face_outboard),
        *(donor.camber_deg, donor.toe_in_deg, stood),
    )


def points_table(donors: Sequence[DonorFigures]) -> Table:
    """The points of all donors by role, on the common axes, a line for each point of each."""
    roles = dict.fromkeys(point.role for each in donors for point in each.points)
    rows = [
        (role.replace("_", " "), each.donor.name, *_place_cells(point))
        for role in roles
        for each in donors
        for point in each.points
        if point.role == role
    ]
    titles = ("Ahead", "Outboard", "Above hub face", "Above ground", "Likely error")
    columns = (
        *(Column(title, "", "text") for title in ("Point", "Donor")),
        *(Column(title, "mm", "number", 1) for title in titles),
    )
    return Table("Points of the donors", (), columns, tuple(rows), (AXES,))


def _place_cells(point: DonorPlace) -> tuple[Cell, ...]:
    at: tuple[Cell, ...] = (None, None, None) if point.at is None else tuple(point.at)
    return (*at, point.above_ground, point.uncertainty)
