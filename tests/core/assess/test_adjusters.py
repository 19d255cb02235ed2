"""What adjusters move and do, and what they are to be set to, against scipy on lengths alone."""

from typing import Any

import msgspec
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import NonlinearConstraint, minimize

from core.assess.adjusters import adjuster_effects, adjusters_of
from core.assess.setting_up import CornerSetUp, Setting, set_up_of, wanted
from core.document.base import Vec3
from core.document.links import Adjuster
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.running_gear import Corner
from core.edits.values import put_value, release
from core.engine.address import Address
from core.engine.assess import compute
from core.engine.cells import NotComputedError
from tests.cars.stored import demo, second
from tests.core.assess.set_up_cars import adjusters, corner, point, rods, with_corner
from tests.oracles.five_rods import Array, FiveRods

RODS = {
    "front": ("upper_front", "upper_rear", "tie"),
    "rear": ("upper_lateral", "toe", "lower_radius", "upper_radius"),
}
"""The rods that the adjusters of the demo car lengthen, in their order."""

SOLVED: Any = minimize
"""Stubs of scipy know fewer ways to call it than it has."""

WANTED = {"front": (-0.75, 0.05), "rear": (-1.25, 0.15)}


def told(document: Document, end: str, side: str = "left") -> CornerSetUp:
    return compute(document, {}, set_up_of, corner(document, end, side))


def set_to(end: str, amounts: Array) -> FiveRods:
    return rods(end).longer(dict(zip(RODS[end], amounts.tolist(), strict=True)))


@pytest.mark.parametrize("end", ["front", "rear"])
def test_each_adjuster_of_the_demo_car_lengthens_the_link_at_its_point(end: str) -> None:
    document = demo().drawn

    found = compute(document, {}, adjusters_of, corner(document, end))

    assert [each.room.change.longer for each in found.known] == [((n, 1.0),) for n in RODS[end]]
    assert [each.room.least for each in found.known] == [a.least for a in adjusters(end)]
    assert found.unknown == ()
    assert not any(each.has_step for each in found.known)


@pytest.mark.parametrize("end", ["front", "rear"])
def test_what_one_step_does_is_what_scipy_finds_from_longer_rods(end: str) -> None:
    document = with_corner(end, adjusters=adjusters(end, step=1.5))

    found = compute(document, {}, adjuster_effects, corner(document, end))

    before, (centre, _) = rods(end).camber_toe_deg(), rods(end).pose()
    for k in range(len(RODS[end])):
        one = set_to(end, 1.5 * np.eye(len(RODS[end]))[k])
        row = dict(zip(found.keys, found.per_step[k].tolist(), strict=True))
        camber, toe = one.camber_toe_deg() - before
        assert (row["camber"], row["toe_in"]) == pytest.approx((camber, toe), abs=2e-5)
        ahead = one.pose()[0][0] - centre[0]
        assert row["wheelbase"] == pytest.approx(ahead if end == "front" else -ahead, abs=2e-4)
        steer = (one.camber_toe_deg(0.5) - one.camber_toe_deg(-0.5))[1]
        drawn = (rods(end).camber_toe_deg(0.5) - rods(end).camber_toe_deg(-0.5))[1]
        assert row["bump_steer"] == pytest.approx(10.0 * (steer - drawn), abs=2e-4)


@pytest.mark.parametrize("end", ["front", "rear"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_the_demo_car_comes_to_what_is_wanted_of_it(end: str, side: str) -> None:
    """And by the least movement, as scipy finds on its own."""
    found = told(demo().drawn, end, side)

    amounts = np.array([each.amount for each in found.settings])
    assert found.found.is_met
    assert set_to(end, amounts).camber_toe_deg() == pytest.approx(WANTED[end], abs=1e-4)
    least = SOLVED(
        lambda tried: float(tried @ tried),
        np.zeros(len(amounts)),
        constraints=[
            NonlinearConstraint(
                lambda tried: set_to(end, tried).camber_toe_deg(), WANTED[end], WANTED[end]
            )
        ],
        method="SLSQP",
        options={"ftol": 1e-10},
    ).x
    assert amounts == pytest.approx(least, abs=5e-3)
    assert found.runs_out == ()


def test_half_turns_alone_can_be_set_on_rod_ends_and_any_turn_on_the_rack() -> None:
    document = with_corner("front", adjusters=adjusters("front", step=1.5))

    found = told(document, "front")

    turns = [each.steps for each in found.settings]
    assert turns[:2] == pytest.approx([round(2.0 * turn) / 2.0 for turn in turns[:2]])
    assert abs(turns[2] * 2.0 - round(turns[2] * 2.0)) > 1e-3
    amounts = np.array([each.amount for each in found.settings])
    reached = set_to("front", amounts).camber_toe_deg()
    assert tuple(found.reached.values()) == pytest.approx(tuple(reached), abs=2e-4)
    assert found.reached["toe_in"] == pytest.approx(0.05, abs=5e-3)


def test_the_one_that_runs_out_is_named_with_what_it_lacks() -> None:
    """Only one adjuster for camber: by how much it lacks is where scipy finds the root."""
    both = adjusters("rear")
    document = with_corner("rear", wanted_camber_deg=-2.5, adjusters=both[:2])

    found = told(document, "rear")

    (short,) = found.runs_out
    start = np.zeros(2)
    needed = SOLVED(
        lambda tried: float(
            np.sum((set_to("rear", np.append(tried, [0, 0])).camber_toe_deg() - (-2.5, 0.15)) ** 2)
        ),
        start,
        options={"gtol": 1e-10},
    ).x
    assert short.adjuster.label == "rear_upper_lateral_inner_L"
    assert short.lacking == pytest.approx(needed[0] + 8.0, abs=0.02)
    assert short.left == pytest.approx(-abs(short.lacking))
    assert found.tightest is short
    assert not found.found.is_met


def test_a_car_whose_right_side_is_another_is_set_up_by_its_own_points() -> None:
    right = point("rear_upper_lateral_inner_R")
    document = release(demo().drawn, right, "at")
    document = put_value(document, Address(right, "at.y"), -260.0)

    both = [told(document, "rear", side).settings[0].exact for side in ("left", "right")]

    assert both[0] == pytest.approx(told(demo().drawn, "rear").settings[0].exact)
    assert abs(both[1] - both[0]) > 0.01


def test_shims_move_their_point_outward_along_its_links_or_as_entered() -> None:
    at_point = Adjuster(point=point("rear_toe_inner_L"), least=0.0, most=6.0, how="shims", step=0.5)
    up = msgspec.structs.replace(at_point, direction=Vec3(0.0, 0.0, -2.0), how="slot")
    document = with_corner("rear", adjusters=(at_point, up))

    found = compute(document, {}, adjuster_effects, corner(document, "rear"))

    outward, down = (each.room.change.direction for each in found.adjusters.known)
    k = rods("rear").names.index("toe")
    along = rods("rear").outer[k] - rods("rear").inner[k]
    assert outward == pytest.approx(along / np.linalg.norm(along), abs=1e-4)
    assert down == pytest.approx([0.0, 0.0, -1.0])
    for row, change in enumerate((outward, down)):
        by = rods("rear").inner_moved("toe", 0.5 * change).camber_toe_deg()
        by -= rods("rear").camber_toe_deg()
        assert found.per_step[row, :2] == pytest.approx(by, abs=2e-5)
    labels = [each.label for each in found.adjusters.known]
    assert labels == ["rear_toe_inner_L, shims", "rear_toe_inner_L, slot"]
    assert [each.room.smallest for each in found.adjusters.known] == [0.5, 0.0]


def test_a_direction_on_the_right_is_the_mirror_image() -> None:
    slot = Adjuster(
        point=point("rear_toe_inner_L"), least=0.0, most=6.0, how="slot",
        direction=Vec3(0.0, 1.0, 0.0),
    )  # fmt: skip
    document = with_corner("rear", adjusters=(slot,))

    rows = [
        compute(document, {}, adjuster_effects, corner(document, "rear", side)).per_step
        for side in ("left", "right")
    ]

    assert rows[0] == pytest.approx(rows[1], abs=1e-9)


NOWHERE = "which way it moves the point is not entered"
UNFITTED = [
    ({"point": "front_damper_upper_L"}, "no link ends there"),
    ({"point": "front_damper_upper_L", "how": "shims"}, "nothing that holds the upright"),
    ({"least": 2.0, "most": 2.0}, "it has no range"),
]


@pytest.mark.parametrize(("values", "reason"), UNFITTED)
def test_an_adjuster_that_nothing_is_known_of_says_why(
    values: dict[str, object], reason: str
) -> None:
    values = {k: point(str(v)) if k == "point" else v for k, v in values.items()}
    odd = msgspec.structs.replace(adjusters("front")[0], **values)
    document = with_corner("front", adjusters=(odd, *adjusters("front")[1:]))

    found = compute(document, {}, adjusters_of, corner(document, "front"))

    assert [each.number for each in found.known] == [1, 2]
    assert reason in found.unknown[0].reason
    assert told(document, "front").unknown == found.unknown


def test_shims_at_a_pivot_of_no_link_need_a_direction() -> None:
    document = second().drawn
    ref = corner(document, "rear")
    pivot = compute(document, {}, adjusters_of, ref)
    assert pivot.known == ()
    thing = Lookup(document).by_id[ref.id]
    assert isinstance(thing, Corner)
    at = next(role.point for role in thing.points if role.role == "arm_pivot")
    shims = Adjuster(point=at, least=0.0, most=5.0, how="shims")
    bare = with_corner("rear", document, adjusters=(shims,))
    ahead = msgspec.structs.replace(shims, direction=Vec3(1.0, 0.0, 0.0))
    aimed = with_corner("rear", document, adjusters=(ahead,))

    assert compute(bare, {}, adjusters_of, ref).unknown[0].reason == NOWHERE
    per_step = compute(aimed, {}, adjuster_effects, ref)
    moved = dict(zip(per_step.keys, per_step.per_step[0].tolist(), strict=True))
    assert moved["wheelbase"] == pytest.approx(-1.0, abs=0.1)


def test_nothing_is_told_where_nothing_is_entered() -> None:
    document = second().drawn
    ref = corner(document, "front")

    assert compute(document, {}, wanted, ref) == ()
    for cell, reason in ((set_up_of, "no adjuster is entered"), (adjuster_effects, "no adjuster")):
        with pytest.raises(NotComputedError, match=reason):
            compute(document, {}, cell, ref)
    bare = with_corner("front", wanted_camber_deg=None, wanted_toe_in_deg=None)
    with pytest.raises(NotComputedError, match="what camber and toe-in are wanted"):
        compute(bare, {}, set_up_of, corner(bare, "front"))


def test_a_thread_comes_out_by_what_the_link_gets_longer_and_of_a_turnbuckle_by_half() -> None:
    document = with_corner("front", adjusters=adjusters("front", thread_engaged=20.0))
    fitted = compute(document, {}, adjusters_of, corner(document, "front")).known[0]

    assert Setting(fitted, 3.0, 3.0).engaged == pytest.approx(17.0)
    assert Setting(fitted, -3.0, -3.0).engaged == pytest.approx(23.0)
    both = with_corner("front", adjusters=adjusters("front", thread_engaged=20.0, how="turnbuckle"))
    fitted = compute(both, {}, adjusters_of, corner(both, "front")).known[0]
    assert Setting(fitted, 3.0, 3.0).engaged == pytest.approx(18.5)


@settings(max_examples=12, deadline=None)
@given(
    camber=st.floats(-1.2, 1.2),
    toe=st.floats(-1.5, 1.5),
    end=st.sampled_from(["front", "rear"]),
)
def test_whatever_is_said_to_be_reached_is_what_the_rods_come_to(
    camber: float, toe: float, end: str
) -> None:
    document = with_corner(end, wanted_camber_deg=camber, wanted_toe_in_deg=toe)

    found = told(document, end)

    amounts = np.array([each.amount for each in found.settings])
    assert tuple(found.reached.values()) == pytest.approx(
        tuple(set_to(end, amounts).camber_toe_deg()), abs=2e-4
    )
    for each in found.settings:
        room = each.adjuster.room
        assert room.least - 1e-9 <= each.amount <= room.most + 1e-9
        assert each.share_left <= 1.0
    if found.found.is_met:
        assert found.reached["camber"] == pytest.approx(camber, abs=0.1)
        assert found.reached["toe_in"] == pytest.approx(toe, abs=0.05)
    else:
        assert found.runs_out or found.found.unreachable


def test_what_else_changes_is_told() -> None:
    found = told(demo().drawn, "rear")

    amounts = np.array([each.amount for each in found.settings])
    ahead = set_to("rear", amounts).pose()[0][0] - rods("rear").pose()[0][0]
    assert found.besides["wheelbase"] == pytest.approx(-ahead, abs=1e-3)
    assert set(found.besides) == {"half_track", "wheelbase"}
    assert set(told(demo().drawn, "front").besides) == {"castor", "half_track", "wheelbase"}
