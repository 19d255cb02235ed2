"""The rules on the suspension: what breaks each, what each says, and what it does not know.

Both cars' figures are held against their own independent check in tests/core/assess; here, what the
rules make of figures.
"""

from dataclasses import replace
from functools import cache

import msgspec
import numpy as np
import pytest

from core.assess.curves import travel_curves
from core.assess.travels import over_travel
from core.checks.positions import height_words
from core.checks.rules import assess_all, to_look_at
from core.checks.suspension import RULES
from core.document.base import Ref, Vec3
from core.document.links import Link
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.steel import LinkEnd
from core.edits.limits import set_limit
from core.edits.points import move_point
from core.edits.values import put_value, release
from core.engine.address import Address
from core.engine.assess import Assessment, assess, compute
from core.engine.cells import When
from core.engine.finding import Finding
from tests.cars.stored import demo, empty, only_tubes, ref, second
from tests.core.assess.made_corners import (
    Made,
    made,
    made_up_trailing_arm,
    made_up_wishbones,
    swinging_arm,
)

WISHBONES, SWINGING = made(made_up_wishbones()), made(swinging_arm())
KEYS = {"corner_held", "wheel_travel", "bump_steer", "damper", "link_tilt"}


def table(document: Document) -> Assessment:
    return assess(document, {}, None, RULES, When.ASKED)


def found(document: Document, rule: str, of: Ref | None = None) -> list[Finding]:
    every = [each for each in table(document).findings() if each.rule == rule]
    return every if of is None else [each for each in every if of in each.subjects]


def only(document: Document, rule: str, of: Ref) -> Finding:
    (finding,) = found(document, rule, of)
    return finding


def with_links(car: Made, *links: Link) -> Document:
    return car.changed(car.corner, "links", links).document


def links_of(car: Made) -> tuple[Link, ...]:
    return car.document.corners[0].links


def test_every_rule_asks_something_of_the_suspension() -> None:
    assert {rule.key for rule in RULES} == KEYS
    assert {rule.room for rule in RULES} == {"suspension"}


@pytest.mark.parametrize("document", [empty(), only_tubes()])
def test_without_a_corner_each_rule_says_that_none_is_entered(document: Document) -> None:
    findings = table(document).findings()

    assert {each.rule for each in findings} == KEYS
    assert {each.verdict for each in findings} == {"unknown"}
    assert all("no corner is entered" in each.sentence for each in findings)


def test_the_demo_car_is_fine_or_tight_and_the_second_knows_all_but_its_joints() -> None:
    assert {each.verdict for each in table(demo().drawn).findings()} == {"fine", "tight"}
    second_car = table(second().drawn).findings()
    unknown = [each for each in second_car if each.verdict == "unknown"]
    assert {each.rule for each in unknown} == {"link_tilt"}
    assert len(unknown) == 4
    assert "no" not in {each.verdict for each in second_car}


def test_a_joint_of_which_nothing_is_entered_is_asked_for_by_its_name() -> None:
    finding = found(second().drawn, "link_tilt")[0]

    assert "front_lower_outer_L, front_lower_inner_rear_L, steering_rack_L" in finding.sentence
    assert "enter kind, direction and the tilt it allows" in finding.sentence


def test_a_held_corner_says_by_how_many_conditions() -> None:
    for corner in (WISHBONES.corner, WISHBONES.corner.mirrored()):
        finding = only(WISHBONES.document, "corner_held", corner)
        assert finding.verdict == "fine"
        assert "held by 5 conditions" in finding.sentence
        assert finding.place is not None
        assert finding.place.y == (700.0 if corner.side == "left" else -700.0)


def test_a_link_too_few_is_told_with_the_motion_that_it_leaves() -> None:
    """Without the tie nothing steers the upright; both wishbones hold the rest."""
    document = with_links(WISHBONES, *links_of(WISHBONES)[:4])

    finding = only(document, "corner_held", WISHBONES.corner)

    assert finding.verdict == "no"
    assert "corner left: 4 conditions hold the upright and 5 are needed." in finding.sentence
    assert "With the wheel held at its height the upright can turn about" in finding.sentence
    assert "it steers by itself" in finding.sentence


def test_a_link_too_many_is_told() -> None:
    extra = Link(
        name="extra",
        inner=WISHBONES.points["spring_on_chassis"],
        outer=WISHBONES.points["spring_on_lower_wishbone"],
    )

    finding = only(
        with_links(WISHBONES, *links_of(WISHBONES), extra), "corner_held", WISHBONES.corner
    )

    assert finding.verdict == "no"
    assert "6 conditions hold the upright, 5 are needed: it is fixed" in finding.sentence


def test_two_links_that_hold_the_same_thing_twice_are_named() -> None:
    first, *rest = links_of(WISHBONES)
    twin = msgspec.structs.replace(first, name="twin")
    document = with_links(WISHBONES, first, twin, *rest[:1], *rest[2:])

    finding = only(document, "corner_held", WISHBONES.corner)

    assert finding.verdict == "no"
    assert "lower front and twin hold the same thing twice" in finding.sentence


def test_a_corner_that_is_not_held_is_unknown_to_every_other_rule_and_says_why() -> None:
    document = with_links(WISHBONES, *links_of(WISHBONES)[:4])

    rest = [each for each in table(document).findings() if each.rule != "corner_held"]

    assert {each.verdict for each in rest} == {"unknown"}
    assert {each.rule for each in rest} == KEYS - {"corner_held"}
    assert all("is not held: 4 conditions" in each.sentence for each in rest)
    assert not any(".." in each.sentence for each in rest)


def test_a_corner_that_nothing_holds_says_what_to_enter() -> None:
    finding = only(with_links(WISHBONES), "corner_held", WISHBONES.corner)

    assert (finding.verdict, finding.sentence) == (
        "unknown",
        "Nothing is entered that holds the upright of corner left.",
    )


def test_a_missing_role_is_asked_for() -> None:
    car = made(made_up_trailing_arm())
    bare = car.changed(car.corner, "points", ())

    finding = only(bare.document, "corner_held", car.corner)

    assert finding.verdict == "unknown"
    assert finding.sentence == "Corner left has no point in the role arm pivot."


def test_a_corner_said_to_be_on_a_rigid_axle_is_not_taken_for_one_with_a_wheel_of_its_own() -> None:
    rigid = WISHBONES.changed(WISHBONES.corner, "linkage", "rigid_axle")

    findings = table(rigid.document).findings()

    assert {each.verdict for each in findings} == {"unknown"}
    (held,) = (each for each in findings if each.rule == "corner_held")
    assert held.subjects == (WISHBONES.axle,)
    assert "has links of its own" in held.sentence


@pytest.mark.parametrize(
    ("droop", "bump", "way", "needed"),
    [(60.0, 360.0, "bump", 360.0), (355.0, 60.0, "droop", 355.0)],
)
def test_links_that_lock_before_the_end_of_the_travel_are_told(
    droop: float, bump: float, way: str, needed: float
) -> None:
    """An arm of 350 stands upright at 350."""
    car = SWINGING.changed(SWINGING.corner, "droop", droop).changed(SWINGING.corner, "bump", bump)

    finding = only(car.document, "wheel_travel", car.corner)

    assert finding.verdict == "no"
    assert (finding.governing, finding.limit) == (way, needed)
    assert finding.measured == pytest.approx(350.0, abs=2e-3)
    assert f"lock at 350.0 of {way}, before the {needed:.0f} that are used" in finding.sentence


def test_a_wheel_that_locks_has_no_bump_steer_and_no_damper_lengths() -> None:
    car = SWINGING.changed(SWINGING.corner, "bump", 360.0)

    rest = [each for each in table(car.document).findings() if car.corner in each.subjects]

    for rule in ("bump_steer", "damper"):
        (finding,) = [each for each in rest if each.rule == rule]
        assert finding.verdict == "unknown"
        assert "does not reach" in finding.sentence


def test_a_lock_just_beyond_the_travel_is_told_and_fine() -> None:
    car = SWINGING.changed(SWINGING.corner, "bump", 340.0)

    finding = only(car.document, "wheel_travel", car.corner)

    assert finding.verdict == "fine"
    assert "lock at 350.0 of bump" in finding.sentence


@pytest.mark.parametrize(
    ("ends", "words"),
    [
        (("bump",), "in bump is"),
        (("droop",), "in droop is"),
        (("droop", "bump"), "in droop and bump is"),
    ],
)
def test_a_travel_that_is_not_given_is_asked_for(ends: tuple[str, ...], words: str) -> None:
    car = WISHBONES
    for end in ends:
        car = car.changed(car.corner, end, None)

    finding = only(car.document, "wheel_travel", car.corner)

    assert finding.verdict == "unknown"
    assert f"How far corner left goes {words} not known" in finding.sentence


def test_a_rack_that_goes_further_than_its_links_is_told() -> None:
    rack = Ref(WISHBONES.document.racks[0].id)
    far = WISHBONES.changed(rack, "used_each_way", 160.0)

    findings = found(far.document, "rack_travel")

    assert [each.verdict for each in findings] == ["no", "no"]
    assert "lock at" in findings[0].sentence
    assert findings[0].governing.startswith("rack to the ")
    ways = {each.governing for each in findings}
    assert ways == {"rack to the left", "rack to the right"}


def test_bump_steer_is_the_largest_change_from_the_design_toe() -> None:
    curves = compute(WISHBONES.document, {}, travel_curves, WISHBONES.corner)
    change = curves.of("toe_in") - curves.of("toe_in")[20]

    for corner in (WISHBONES.corner, WISHBONES.corner.mirrored()):
        finding = only(WISHBONES.document, "bump_steer", corner)
        assert finding.measured == pytest.approx(np.abs(change).max(), abs=1e-9)
        assert (finding.unit, finding.higher_is_worse) == ("deg", True)
        at = float(curves.along[int(np.abs(change).argmax())])
        assert finding.governing == height_words(at)
        way = "in" if change[int(np.abs(change).argmax())] > 0.0 else "out"
        assert f"toes {way} by" in finding.sentence


@pytest.mark.parametrize("end", ["front", "rear"])
def test_a_limit_of_bump_steer_for_one_axle_counts_for_both_its_wheels_and_no_other(
    end: str,
) -> None:
    document = demo().drawn
    own = set_limit(document, "bump_steer", 0.01, "tried", ref(document, f"{end} axle"))

    verdicts = {
        Lookup(own).label(each.subjects[0]): (each.verdict, each.limit_source)
        for each in found(own, "bump_steer")
    }

    other = "rear" if end == "front" else "front"
    for side in ("left", "right"):
        assert verdicts[f"{end} corner {side}"] == ("no", "tried")
        assert verdicts[f"{other} corner {side}"] == ("fine", "builder's own")


def test_too_much_bump_steer_says_what_to_move() -> None:
    own = set_limit(WISHBONES.document, "bump_steer", 0.001, "tried")

    finding = only(own, "bump_steer", WISHBONES.corner)

    assert finding.verdict == "no"
    assert "more than the 0.00 wanted: move a joint of the link that steers it" in finding.sentence


def test_a_limit_of_bump_steer_that_is_no_angle_leaves_it_unknown() -> None:
    own = set_limit(WISHBONES.document, "bump_steer", 0.1, "tried")
    spoilt = put_value(own, Address(Ref(own.limits[0].id), "unit"), "mm")

    finding = only(spoilt, "bump_steer", WISHBONES.corner)

    assert finding.verdict == "unknown"
    assert "«mm»" in finding.sentence


def with_lengths(closed: float | None, open_: float | None) -> Made:
    car = SWINGING.changed(SWINGING.corner, "damper.closed_length", closed)
    return car.changed(car.corner, "damper.open_length", open_)


def ends_of_damper() -> tuple[float, float]:
    """Shortest and longest, of an eye on a circle of 350 with the other eye 300 over it."""
    turn = np.arcsin(np.array([60.0, -60.0]) / 350.0)
    ahead = 350.0 - 350.0 * np.cos(turn) + 20.0 * np.sin(turn)
    up = 300.0 + 350.0 * np.sin(turn) + 20.0 * np.cos(turn)
    shortest, longest = np.hypot(ahead, 620.0 - up)
    return float(shortest), float(longest)


@pytest.mark.parametrize(
    ("left", "verdict"),
    [(-0.5, "no"), (0.5, "tight"), (2.9, "tight"), (3.1, "fine"), (20.0, "fine")],
)
def test_a_damper_is_held_against_its_closed_length_in_bump_and_its_open_one_in_droop(
    left: float, verdict: str
) -> None:
    shortest, longest = ends_of_damper()
    car = with_lengths(shortest - left, longest + left)

    for rule, where in (("damper_closed", "60 of bump"), ("damper_open", "60 of droop")):
        finding = only(car.document, rule, car.corner)
        assert finding.verdict == verdict
        assert finding.measured == pytest.approx(left, abs=1e-6)
        assert where in finding.sentence
        assert finding.governing == where


def test_the_travel_kept_in_a_damper_may_be_the_cars_own_for_an_axle() -> None:
    shortest, longest = ends_of_damper()
    car = with_lengths(shortest - 20.0, longest + 50.0)

    own = set_limit(car.document, "damper_left", 25.0, "the rubber", car.axle)

    closed, opened = (only(own, f"damper_{end}", car.corner) for end in ("closed", "open"))
    assert (closed.verdict, closed.limit_source) == ("no", "the rubber")
    assert opened.verdict == "fine"


def test_a_damper_whose_own_lengths_are_not_known_is_not_fine() -> None:
    findings = [
        each
        for each in table(SWINGING.document).findings()
        if each.rule in ("damper_closed", "damper_open") and SWINGING.corner in each.subjects
    ]

    assert [each.verdict for each in findings] == ["unknown", "unknown"]
    assert "is fully closed is not known" in findings[0].sentence
    assert "is fully open is not known" in findings[1].sentence


def test_no_damper_and_one_on_an_arm_that_is_not_there_are_told() -> None:
    none = SWINGING.changed(SWINGING.corner, "damper", None)
    lost = SWINGING.changed(SWINGING.corner, "damper.lower_on", "upper arm")

    for car, words in ((none, "No damper is entered"), (lost, "has no upper arm")):
        finding = only(car.document, "damper", car.corner)
        assert finding.verdict == "unknown"
        assert words in finding.sentence


def eye(limit: float | None = None, source: str = "") -> LinkEnd:
    return LinkEnd(
        kind="eye",
        carried_by="frame",
        direction=Vec3(1.0, 0.0, 0.0),
        tilt_limit_deg=limit,
        limit_from=source,
    )


@cache
def tilt_of_eye() -> float:
    """Of a bolt across the hinge; closed form in tests/core/assess/test_tilts.py."""
    measured = tilted(SWINGING.with_joint("top", eye(90.0))).measured
    assert measured is not None
    return measured


def tilted(car: Made) -> Finding:
    return only(car.document, "link_tilt", car.points["top"])


@pytest.mark.parametrize(
    ("spare", "verdict"), [(-0.1, "no"), (0.1, "tight"), (1.9, "tight"), (2.1, "fine")]
)
def test_a_tilt_is_held_against_the_figure_on_the_part_with_its_margin(
    spare: float, verdict: str
) -> None:
    finding = tilted(SWINGING.with_joint("top", eye(tilt_of_eye() + spare, "stamped on it")))

    assert (finding.verdict, finding.limit_source) == (verdict, "stamped on it")
    assert finding.measured == pytest.approx(tilt_of_eye())
    assert ("turn its bolt" in finding.sentence) == (verdict == "no")


@pytest.mark.parametrize(("spare", "verdict"), [(-0.1, "no"), (0.1, "tight"), (2.1, "fine")])
def test_a_part_that_says_nothing_is_held_against_the_cars_own_figure(
    spare: float, verdict: str
) -> None:
    car = SWINGING.with_joint("top", eye())
    own = set_limit(car.document, "link_tilt", tilt_of_eye() + spare, "all of one make")

    finding = only(own, "link_tilt", car.points["top"])

    assert (finding.verdict, finding.limit_source) == (verdict, "all of one make")


def test_the_figure_on_the_part_goes_before_the_cars_own() -> None:
    car = SWINGING.with_joint("top", eye(tilt_of_eye() - 0.5))
    own = set_limit(car.document, "link_tilt", 60.0, "all of one make")

    finding = only(own, "link_tilt", car.points["top"])

    assert (finding.verdict, finding.limit_source) == ("no", "the part's own figure")


def test_a_limit_for_one_joint_or_one_corner_goes_before_the_cars_own() -> None:
    car = SWINGING.with_joint("top", eye())
    for of in (car.points["top"], car.corner):
        own = set_limit(car.document, "link_tilt", 60.0, "all")
        own = set_limit(own, "link_tilt", 0.1, "this one", of)
        finding = only(own, "link_tilt", car.points["top"])
        assert (finding.verdict, finding.limit_source) == ("no", "this one")


def test_a_tilt_without_any_figure_to_hold_it_against_is_unknown() -> None:
    finding = tilted(SWINGING.with_joint("top", eye()))

    assert finding.verdict == "unknown"
    assert finding.measured == pytest.approx(tilt_of_eye())
    assert finding.limit is None
    assert "what it allows is not known: enter the figure of the part" in finding.sentence


def test_a_tilt_over_part_of_the_travel_is_never_fine() -> None:
    far = SWINGING.with_joint("top", eye(89.0)).changed(SWINGING.corner, "bump", 360.0)

    finding = tilted(far)

    assert finding.verdict == "unknown"
    assert "does not reach all of its travel and steer" in finding.sentence


def test_a_joint_that_does_not_tilt_is_not_said_to_be_missing() -> None:
    car = SWINGING.with_joint("top", msgspec.structs.replace(eye(5.0), kind="fixed"))

    finding = tilted(car)

    assert finding.verdict == "unknown"
    assert finding.sentence == "The joint at top left (damper): a fixed joint does not tilt."


def test_the_words_for_a_wheel_height() -> None:
    heights = [height_words(at) for at in (0.04, -0.04, 12.4, -59.6)]

    assert heights == ["the design position"] * 2 + ["12 of bump", "60 of droop"]


def test_a_right_side_of_its_own_is_judged_by_itself() -> None:
    apart = WISHBONES.right_only(WISHBONES.points["steer_outer"], "at.z", 240.0)

    left, right = (
        only(apart.document, "bump_steer", each) for each in (apart.corner, apart.corner.mirrored())
    )

    assert left.measured == only(WISHBONES.document, "bump_steer", WISHBONES.corner).measured
    assert right.measured is not None
    assert right.measured > 0.5
    assert right.verdict == "no"


OF_CORNER = {"linkage", "arms", "over_travel", "travel_curves", "held_of", "bump_steer_of"}


def moved_live(document: Document, point: str, before: Assessment) -> Assessment:
    at = ref(document, point)
    place = Lookup(document).by_id[at.id]
    y = place.at.y if at.side == "left" else -place.at.y  # type: ignore[attr-defined]
    moved = move_point(document, at, Vec3(place.at.x, y, place.at.z + 3.0))  # type: ignore[attr-defined]
    return assess_all(moved, {}, before, When.LIVE)


@cache
def demo_table() -> Assessment:
    return assess_all(demo().drawn, {})


def test_moving_one_pick_up_live_runs_only_the_cells_of_its_corners() -> None:
    document = demo().drawn
    front = {ref(document, f"front corner {side}") for side in ("left", "right")}

    after = moved_live(document, "front_upper_inner_front_L", demo_table())

    for name in OF_CORNER:
        of = {key.args[0] for key in after.ran if key.cell.name == name}
        assert of == front, name
    assert not {"tilts", "link_tilts", "reached", "ends_of_travel"} & {
        key.cell.name for key in after.ran
    }
    behind = {key.cell.name for key in after.behind}
    assert {"link_tilts", "reached"} <= behind


def test_moving_the_own_point_of_one_side_runs_the_cells_of_that_side_alone() -> None:
    document = demo().drawn
    right = ref(document, "front_upper_inner_front_R")
    own = release(document, right, "at")
    before = assess_all(own, {})

    after = moved_live(own, "front_upper_inner_front_R", before)

    for name in OF_CORNER:
        of = {key.args[0] for key in after.ran if key.cell.name == name}
        assert of == {ref(document, "front corner right")}, name


def test_what_was_kept_and_what_was_run_is_as_if_assessed_afresh() -> None:
    live = moved_live(demo().drawn, "rear_toe_inner_L", demo_table())

    caught_up = assess_all(live.document, {}, live)
    fresh = assess_all(live.document, {})

    assert caught_up.agrees_with(fresh)
    assert caught_up.findings() == fresh.findings()
    changed = compute(live.document, {}, over_travel, ref(live.document, "rear corner left"))
    assert changed.is_reached.all()
    toe = [
        only(document, "bump_steer", ref(document, "rear corner right")).measured
        for document in (demo().drawn, live.document)
    ]
    assert toe[0] != toe[1]


def test_a_live_move_leaves_no_slow_finding_fine() -> None:
    live = moved_live(demo().drawn, "front_tie_outer_L", demo_table())

    slow = [each for each in to_look_at(live) if each.rule in ("link_tilt", "wheel_travel")]

    assert slow
    assert "fine" not in {each.verdict for each in slow}
    assert all(replace(each, verdict="no") != each or each.verdict == "no" for each in slow)
