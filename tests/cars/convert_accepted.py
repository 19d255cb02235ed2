"""What the builder of an invented car has accepted, with his reasons."""

from collections.abc import Iterator
from typing import NamedTuple

import msgspec

from core.document.base import Ref
from core.document.lookup import label, sides
from core.document.project import Document
from core.document.records import Acceptance


class Passing(NamedTuple):
    """Two links of a corner that come too near to one another, and why that may stay.

    Attributes:
        car: of which car.
        corner: by its name.
        links: both, by their names.
        measured: how near they come, mm.
        reason: the builder's.
    """

    car: str
    corner: str
    links: tuple[str, str]
    measured: float
    reason: str


PASSING = (
    Passing(
        "Fennock One",
        "front corner",
        ("lower_front", "tie"),
        0.8,
        "only with full droop and full lock at once; to be tried on the mock-up before the tie is "
        "made",
    ),
)


def with_acceptances(document: Document) -> Document:
    """The car with what is accepted of it."""
    told = [*_open_bays(document), *_passing(document)]
    numbered = tuple(
        msgspec.structs.replace(each, id=f"acceptance{count}") for count, each in enumerate(told, 1)
    )
    return msgspec.structs.replace(document, acceptances=numbered)


def _open_bays(document: Document) -> Iterator[Acceptance]:
    for bay in document.bays:
        for ref in sides(bay) if bay.closed_by == "nothing" else ():
            name = f"open bay {label(bay, ref)}"
            yield _accepted(name, "open_bay", (ref,), bay.why)


def _passing(document: Document) -> Iterator[Acceptance]:
    name = document.cars[0].name
    for each in PASSING:
        for corner in document.corners:
            if (name, corner.name) != (each.car, each.corner):
                continue
            inner = [link.inner for link in corner.links if link.name in each.links]
            for ref in sides(corner):
                subjects = (ref, *(Ref(end.id, ref.side) for end in inner))
                said = f"{' and '.join(each.links)} of {label(corner, ref)}"
                made = _accepted(said, "moving_gap", subjects, each.reason)
                yield msgspec.structs.replace(made, verdict="no", measured=each.measured)


def _accepted(name: str, rule: str, subjects: tuple[Ref, ...], reason: str) -> Acceptance:
    return Acceptance(id="acceptance", name=name, rule=rule, subjects=subjects, reason=reason)
