"""What cannot be true of what holds and springs a wheel is refused when it is made, in words."""

import re
from collections.abc import Callable
from functools import partial
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.document.base import Ref, Vec3
from core.document.links import (
    Adjuster,
    AntiRollBar,
    BumpStop,
    Damper,
    Holder,
    Link,
    Rocker,
    TorsionBar,
    Upright,
)
from core.document.running_gear import Axle, Corner
from core.document.sides import on_side

A, B, C, D = (Ref(f"point{n}", "left") for n in (1, 2, 3, 4))
ACROSS, NOWHERE = Vec3(0.0, 1.0, 0.0), Vec3(0.0, 0.0, 0.0)
Make = Callable[..., Any]

LINK: Make = partial(Link, name="lower", inner=A, outer=B)
HOLDER: Make = partial(Holder, name="pivot", how="ball", points=(A,))
ROCKER: Make = partial(Rocker, pivot=A, pivot_axis=ACROSS, rod_outer=B, rod_inner=C)
TORSION: Make = partial(TorsionBar, rate_nm_per_deg=12.0)
STOP: Make = partial(BumpStop, length=30.0)
DAMPER: Make = partial(Damper, lower=A, upper=B, lower_on="upright")
ADJUSTER: Make = partial(Adjuster, point=A, least=-3.0, most=3.0)
BAR: Make = partial(AntiRollBar, bearing=A, arm_end=B, link_lower=C)
AXLE: Make = partial(Axle, id="axle1", name="front axle", end="front")
UPRIGHT: Make = partial(Upright, hub_face=Vec3(0.0, 700.0, 300.0), spin_axis=ACROSS)
CORNER: Make = partial(Corner, id="corner1", name="front", axle=Ref("axle1"), upright=UPRIGHT())

REFUSED: list[tuple[Make, dict[str, object], str]] = [
    (LINK, {"outer": A}, "link lower ends where it begins"),
    (LINK, {"outside": 0.0}, "link lower: `outside` must be above zero"),
    (HOLDER, {"points": ()}, "pivot is a ball and needs 1 points, not 0"),
    (HOLDER, {"points": (A, B)}, "pivot is a ball and needs 1 points, not 2"),
    (HOLDER, {"how": "hinge"}, "pivot is a hinge and needs 2 points, not 1"),
    (HOLDER, {"how": "strut", "points": (A, B, C)}, "is a strut and needs 2 points, not 3"),
    (HOLDER, {"how": "h_arm", "points": (A, B, C)}, "is a h_arm and needs 4 points, not 3"),
    (HOLDER, {"how": "guide"}, "the guide pivot: `direction` has no length"),
    (HOLDER, {"how": "guide", "direction": NOWHERE}, "`direction` has no length"),
    (HOLDER, {"how": "guide", "points": (A, B), "direction": ACROSS}, "needs 1 points, not 2"),
    (ROCKER, {"pivot_axis": NOWHERE}, "a rocker: `pivot_axis` has no length"),
    (ROCKER, {"rod_inner": B}, "the rod of a rocker ends where it begins"),
    (ROCKER, {"rod_outside": -12.0}, "the rod of a rocker: `outside` must be above zero"),
    (TORSION, {"rate_nm_per_deg": 0.0}, "a torsion bar: `rate_nm_per_deg` must be above zero"),
    (STOP, {"length": 0.0}, "a bump stop: `length` must be above zero"),
    (STOP, {"rate": 0.0}, "a bump stop: `rate` must be above zero"),
    (DAMPER, {"open_length": 300.0, "closed_length": 300.0}, "cannot be 300 closed and 300 open"),
    (DAMPER, {"open_length": 0.0}, "a damper: `open_length` must be above zero"),
    (DAMPER, {"closed_length": -1.0}, "a damper: `closed_length` must be above zero"),
    (DAMPER, {"spring_rate": 0.0}, "a damper: `spring_rate` must be above zero"),
    (DAMPER, {"spring_outside": 0.0}, "a damper: `spring_outside` must be above zero"),
    (DAMPER, {"spring_free_length": 0.0}, "`spring_free_length` must be above zero"),
    (DAMPER, {"spring_block_length": 0.0}, "`spring_block_length` must be above zero"),
    (DAMPER, {"spring_seats": -1.0}, "a damper: `spring_seats` must not be below zero"),
    (DAMPER, {"body_outside": 0.0}, "a damper: `body_outside` must be above zero"),
    (DAMPER, {"body_length": 0.0}, "a damper: `body_length` must be above zero"),
    (
        DAMPER,
        {"spring_free_length": 200.0, "spring_block_length": 200.0},
        "a spring cannot be 200 free and 200 with its coils closed",
    ),
    (ADJUSTER, {"least": 3.5}, "an adjuster cannot run from 3.5 to 3"),
    (ADJUSTER, {"step": 0.0}, "an adjuster: `step` must be above zero"),
    (ADJUSTER, {"thread_engaged": 0.0}, "`thread_engaged` must be above zero"),
    (ADJUSTER, {"thread_needed": 0.0}, "`thread_needed` must be above zero"),
    (ADJUSTER, {"direction": NOWHERE}, "an adjuster: `direction` has no length"),
    (BAR, {"rate_nm_per_deg": 0.0}, "an anti-roll bar: `rate_nm_per_deg` must be above zero"),
    (BAR, {"outside": 0.0}, "an anti-roll bar: `outside` must be above zero"),
    (BAR, {"length": -1.0}, "an anti-roll bar: `length` must be above zero"),
    (BAR, {"bore": -1.0}, "an anti-roll bar: `bore` must not be below zero"),
    (BAR, {"outside": 20.0, "bore": 20.0}, "20 outside cannot have a bore of 20"),
    (AXLE, {"pair": True}, "of which there is no left and right one"),
    (AXLE, {"links": (LINK(), LINK(inner=C))}, "axle front axle: two links have the same name"),
    (AXLE, {"links": (LINK(),), "holders": (HOLDER(name="lower"),)}, "two links have the same"),
    (UPRIGHT, {"spin_axis": NOWHERE}, "an upright: `spin_axis` has no length"),
    (CORNER, {"links": (LINK(),), "holders": (HOLDER(name="lower"),)}, "two links have the same"),
    (CORNER, {"links": (LINK(),), "arms": (LINK(),)}, "two links have the same name"),
    (CORNER, {"strap_droop": -1.0}, "`strap_droop` must not be below zero"),
    (CORNER, {"unsprung_mass_kg": 0.0}, "`unsprung_mass_kg` must be above zero"),
]


@pytest.mark.parametrize(("make", "fields", "words"), REFUSED)
def test_what_cannot_be_true_is_refused(make: Make, fields: dict[str, object], words: str) -> None:
    with pytest.raises(ValueError, match=re.escape(words)):
        make(**fields)


@pytest.mark.parametrize(
    ("make", "fields"),
    [
        (LINK, {"outside": 22.0}),
        (HOLDER, {}),
        (HOLDER, {"how": "hinge", "points": (A, B)}),
        (HOLDER, {"how": "strut", "points": (A, B)}),
        (HOLDER, {"how": "guide", "direction": ACROSS}),
        (HOLDER, {"how": "h_arm", "points": (A, B, C, D)}),
        (ROCKER, {"rod_outside": 16.0}),
        (TORSION, {"on": "rocker"}),
        (STOP, {"rate": 40.0}),
        (DAMPER, {"closed_length": 222.0, "open_length": 346.0, "bump_stop": STOP()}),
        (DAMPER, {"spring_free_length": 250.0, "spring_block_length": 120.0, "spring_seats": 0.0}),
        (ADJUSTER, {"least": 3.0, "step": 1.5, "direction": ACROSS}),
        (BAR, {"outside": 20.0, "bore": 14.0, "length": 700.0}),
        (AXLE, {"links": (LINK(),), "holders": (HOLDER(),), "bar": BAR()}),
        (CORNER, {"links": (LINK(),), "holders": (HOLDER(),), "rocker": ROCKER()}),
    ],
)
def test_what_may_be_true_is_made_and_kept_as_it_was_given(
    make: Make, fields: dict[str, object]
) -> None:
    thing = make(**fields)

    assert {name: getattr(thing, name) for name in fields} == fields
    again = msgspec.convert(msgspec.to_builtins(thing), type(thing))
    assert again == thing


SIZES = st.floats(0.1, 1e4)


@given(st.none() | SIZES, st.none() | SIZES)
def test_a_damper_is_made_just_if_it_is_longer_open_than_closed(
    closed: float | None, opened: float | None
) -> None:
    fits = closed is None or opened is None or closed < opened

    assert _is_made(DAMPER, closed_length=closed, open_length=opened) == fits
    assert _is_made(DAMPER, spring_block_length=closed, spring_free_length=opened) == fits


@given(st.none() | SIZES, st.just(0.0) | SIZES)
def test_a_bar_is_made_just_if_its_bore_is_less_than_its_outside(
    outside: float | None, bore: float
) -> None:
    assert _is_made(BAR, outside=outside, bore=bore) == (outside is None or bore < outside)


@given(st.floats(-50.0, 50.0), st.floats(-50.0, 50.0))
def test_an_adjuster_is_made_just_if_its_range_runs_forward(least: float, most: float) -> None:
    assert _is_made(ADJUSTER, least=least, most=most) == (least <= most)


def _is_made(make: Make, **fields: object) -> bool:
    try:
        make(**fields)
    except ValueError:
        return False
    return True


def test_on_the_right_what_holds_and_springs_a_wheel_is_mirrored() -> None:
    slanted = Vec3(0.1, 0.9, 0.2)
    corner = CORNER(
        pair=True,
        holders=(HOLDER(how="guide", direction=slanted),),
        rocker=ROCKER(pivot_axis=slanted),
        damper=DAMPER(lower_on="rocker"),
        adjusters=(ADJUSTER(direction=slanted),),
    )

    right = on_side(corner, "right")

    mirrored = Vec3(0.1, -0.9, 0.2)
    assert right.holders[0].direction == mirrored
    assert right.holders[0].points == (A.mirrored(),)
    assert right.rocker.pivot_axis == mirrored
    assert (right.rocker.rod_outer, right.rocker.rod_inner) == (B.mirrored(), C.mirrored())
    assert (right.damper.lower, right.damper.upper) == (A.mirrored(), B.mirrored())
    assert right.adjusters[0].direction == mirrored
    assert (right.adjusters[0].least, right.adjusters[0].most) == (-3.0, 3.0)
