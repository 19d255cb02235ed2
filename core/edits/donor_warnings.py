"""What to know before a donor's corner is carried over: sentences, none of which forbids it."""

from collections.abc import Iterator
from math import dist
from typing import Final, Literal

from core.assess.places import place
from core.document.base import Ref, Vec3
from core.document.donors import DonorCorner
from core.document.facts import source_of
from core.document.project import Document
from core.document.running_gear import Axle
from core.edits.donor_asked import CarryOver, settled
from core.edits.donor_places import SteeringArm, rod_outer_of, steering_arm
from core.engine.assess import compute

NOT_STANDING: Final = 5.0
"""mm; a hub that stood farther than this from its tyre's loaded radius was hardly on its wheels.
Own rule."""

Rack = Literal["ahead", "behind"]

_OF: Final = {"ahead": "ahead of", "behind": "behind"}


def warnings(document: Document, asked: CarryOver) -> tuple[str, ...]:
    """What to know of a corner that is carried over, a sentence each.

    Raises:
        EditRefusedError: it cannot be carried over at all.
    """
    stands = settled(document, asked)
    donor = stands.donor
    axle = next((a for a in document.axles if a.end == asked.end), None)
    return (
        *_of_hands(donor, asked),
        *_of_measuring(donor),
        *_of_arm(donor, asked, stands.at, steers=_steers(asked, axle)),
        *_of_rack(document, donor, stands.at, axle),
    )


def _steers(asked: CarryOver, axle: Axle | None) -> bool:
    """Whether that end steers: the front does, the rear where a rack is there or asked for."""
    return asked.end == "front" or asked.rack is not None or bool(axle and axle.rack)


def _of_hands(donor: DonorCorner, asked: CarryOver) -> Iterator[str]:
    """Which of the donor's two corners goes where; a part can be turned, never mirrored."""
    other = {"left": "right", "right": "left"}
    goes_to = other[donor.side] if asked.turned else donor.side
    if asked.side == "both":
        if asked.turned:
            yield (
                f"turned end for end, the donor's {donor.side} corner goes to the {goes_to} side "
                "and its other corner across from it; no part is mirrored"
            )
        yield f"the donor's {other[donor.side]} corner is taken for the mirror image of the other"
    elif asked.side != goes_to:
        yield (
            f"the part that fits the {asked.side} side is the donor's {other[donor.side]} corner; "
            f"it was the {donor.side} one that was measured, and the other is taken for its mirror "
            "image"
        )


def _of_measuring(donor: DonorCorner) -> Iterator[str]:
    """What was not measured on the donor, or not on its wheels."""
    if donor.stood == "hanging":
        yield "it was measured hanging, so its arms stand at droop and not as they ride"
    if donor.stood is None:
        yield "how the donor stood when it was measured is not known; nor is how its arms ride"
    angles = (("camber", donor.camber_deg), ("toe", donor.toe_in_deg))
    missing = [words for words, angle in angles if angle is None]
    if missing:
        yield f"{' and '.join(missing)} of the donor as it stood not measured, taken as 0"
    guessed = [p.role for p in donor.points if _is_guessed(donor, p.role)]
    if guessed:
        roles = ", ".join(role.replace("_", " ") for role in guessed)
        yield f"no source is given for the place of {roles}, so it counts as guessed"
    if donor.loaded_radius is not None and donor.hub_height is not None:
        apart = donor.hub_height - donor.loaded_radius
        if abs(apart) > NOT_STANDING:
            yield (
                f"its hub stood {abs(apart):.1f} {'above' if apart > 0 else 'below'} the loaded "
                "radius of its tyre, so it was hardly on its wheels at its own weight"
            )


def _is_guessed(donor: DonorCorner, role: str) -> bool:
    return any(source_of(donor, "one", f"points.{role}.at.{a}") == "guessed" for a in Vec3._fields)


def _of_arm(
    donor: DonorCorner, asked: CarryOver, at: dict[str, Vec3], *, steers: bool
) -> Iterator[str]:
    """What turning end for end does to the steering arm and the castor."""
    rod = rod_outer_of(donor)
    here = steering_arm(at, rod)
    if here is None:
        if steers:
            yield (
                "which way the steering arm points is not known: it takes the roles lower outer, "
                "upper outer or strut top, and the ball of the track rod"
            )
        return
    if asked.turned:
        yield from _of_turning(here, steers=steers)
        if asked.end == "front":
            yield from _of_ackermann(here)
    if steers and asked.rack is not None:
        yield from rack_sentences(here, asked.rack)


def _of_turning(here: SteeringArm, *, steers: bool) -> Iterator[str]:
    there = {"ahead": "behind", "behind": "ahead"}.get(here.points)
    if there is not None:
        yield (
            f"turned end for end, its steering arm points {_OF[here.points]} the steering axis, by "
            f"{abs(here.ahead):.0f}, where on the donor it pointed {there}"
        )
        if steers:
            yield "with the rack moving the same way the wheels now steer the other way"
        else:
            yield "a toe link there steers the wheel the other way in bump than on the donor"
    yield f"its castor is {here.castor_deg:.1f} deg, where on the donor it was the opposite"
    if steers and here.castor_deg < 0.0:
        yield "with castor below zero the wheels do not run straight by themselves"


def _of_ackermann(here: SteeringArm) -> Iterator[str]:
    there = {"more": "less", "less": "more"}.get(here.inner_steers)
    if there is not None:
        yield (
            f"its Ackermann is reversed: by its arm the inner wheel steers {here.inner_steers} "
            f"than the outer one, where on the donor it steered {there}"
        )


def rack_sentences(arm: SteeringArm, rack: Rack) -> tuple[str, ...]:
    """What is wrong with a steering arm for a rack that lies ahead of, or behind, its axis.

    Returns:
        Nothing if the arm points to the rack's side.
    """
    if arm.points == rack:
        return ()
    if arm.points == "neither":
        return ("its steering arm points neither ahead nor behind, so no rack can turn it",)
    words = (
        f"its steering arm points {_OF[arm.points]} the steering axis, by {abs(arm.ahead):.0f}, "
        f"and the rack is to lie {rack}; the donor's other corner, turned end for end, points "
        "there, but its Ackermann and castor are reversed"
    )
    return (words,)


def _of_rack(
    document: Document, donor: DonorCorner, at: dict[str, Vec3], axle: Axle | None
) -> Iterator[str]:
    """How far this car's rack has its balls from where the donor's had them."""
    for point in donor.points:
        if point.on == "rack":
            words = point.role.replace("_", " ")
            if axle is None or axle.rack is None:
                yield (
                    f"{words} was on the donor's rack, and no rack is named for this end: the "
                    "chassis holds it here, and the wheel does not steer"
                )
            else:
                yield from _of_ball(document, at[point.role], axle.rack, words)


def _of_ball(document: Document, wanted: Vec3, rack: Ref, words: str) -> Iterator[str]:
    ball = compute(document, {}, place, Ref(rack.id, "left"))
    apart = dist(ball, wanted)
    if apart > 0.0:
        yield (
            f"the rod is on this car's rack, whose ball is {apart:.1f} from {words} of the donor; "
            "so its length and how the wheel steers in bump are not the donor's"
        )
