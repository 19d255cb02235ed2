"""The rules on a rigid axle: what breaks each, and what each says.

Figures are held against the room and closed forms in tests/core/assess/test_beams.py.
"""

import numpy as np
import pytest

from core.assess.beam_motion import over_heave, over_roll
from core.assess.moving import moving_gaps
from core.assess.tilts import EndTilt, NoTilt, tilts
from core.checks.rules import assess_all
from core.document.base import Ref, Vec3
from core.document.project import Document
from core.document.steel import CarriedBy, JointKind, LinkEnd, Material, Point, Section, Tube
from core.edits.limits import set_limit
from core.edits.points import move_point
from core.edits.things import make
from core.engine.assess import Assessment, compute
from core.engine.finding import Finding
from core.geometry.types import Array, unit
from core.suspension.constraints import Rod
from core.suspension.rigid_axle import RigidAxle
from core.suspension.rigid_axle_poses import AxlePoses
from core.suspension.rigid_axle_solve import solve_axle
from core.suspension.rigid_axle_travel import wheels_at
from tests.cars.stored import demo, second
from tests.core.assess.made_axles import made_axle
from tests.core.assess.made_corners import Made
from tests.core.suspension.axles import (
    AXLE_X,
    PANHARD,
    axle,
    kinds,
    three_parallel,
    trailing,
    triangulated,
)
from tests.core.suspension.corners import vec

OF_CORNERS = ("corner_held", "wheel_travel", "bump_steer", "damper_closed", "link_tilt")
FOUR = made_axle(triangulated())
PARALLEL = made_axle(kinds()["three links and Panhard rod"])
SKEW = made_axle(axle(*three_parallel()[:2], trailing("upper middle", 0.0, 430.0, 300.0), PANHARD))


def table(document: Document, last: Assessment | None = None) -> Assessment:
    return assess_all(document, {}, last)


def found(document: Document, rule: str) -> list[Finding]:
    return [each for each in table(document).findings() if each.rule == rule]


def only(car: Made, rule: str) -> Finding:
    (finding,) = found(car.document, rule)
    return finding


@pytest.mark.parametrize("name", [name for name in kinds() if name != "Watt"])
def test_a_held_axle_is_told_once_with_both_its_corners(name: str) -> None:
    car = made_axle(kinds()[name])

    finding = only(car, "corner_held")

    assert finding.verdict == "fine"
    assert finding.subjects == (car.axle, car.corner, car.corner.mirrored())
    assert finding.sentence == "axle is held by 4 conditions and left just to rise and roll."
    assert finding.place == Vec3(AXLE_X, 0.0, 300.0)


def test_without_its_panhard_rod_it_goes_sideways_and_that_is_said() -> None:
    finding = only(made_axle(axle(*three_parallel())), "corner_held")

    assert finding.verdict == "no"
    assert "axle: 3 conditions hold the axle and 4 are needed." in finding.sentence
    assert "can slide" in finding.sentence
    assert "Watt's, cannot be entered yet" in finding.sentence


def test_five_links_fight_and_are_named() -> None:
    fifth = trailing("upper too", 100.0, 430.0)

    finding = only(made_axle(axle(*three_parallel(), fifth, PANHARD)), "corner_held")

    assert finding.verdict == "no"
    assert "hold the same thing twice" in finding.sentence
    assert "upper too" in finding.sentence
    assert "Watt" not in finding.sentence


def test_four_parallel_links_leave_it_sideways_and_fight() -> None:
    drawn = axle(*three_parallel(), trailing("fourth", -100.0, 430.0))

    finding = only(made_axle(drawn), "corner_held")

    assert finding.verdict == "no"
    assert "Watt's, cannot be entered yet" in finding.sentence


def test_what_is_entered_wrong_is_not_known_and_told_at_the_axle() -> None:
    car = FOUR.changed(FOUR.corner, "linkage", "five_links")

    for rule in ("corner_held", "wheel_travel", "bump_steer"):
        finding = only(car, rule)
        assert finding.verdict == "unknown"
        assert finding.subjects == (car.axle,)
        assert "has links of its own" in finding.sentence


def test_links_that_reach_all_of_the_travel_are_fine() -> None:
    finding = only(FOUR, "wheel_travel")

    assert finding.verdict == "fine"
    assert finding.limit == 60.0
    assert finding.sentence == "The links of axle reach both ends of what is used."


def test_links_that_lock_before_full_droop_are_told_with_how_far_they_go() -> None:
    finding = only(PARALLEL.changed(PARALLEL.corner, "droop", 445.0), "wheel_travel")

    assert finding.verdict == "no"
    assert finding.governing == "droop"
    assert finding.measured is not None
    assert 400.0 < finding.measured < 445.0
    assert "before the 445 that are used" in finding.sentence


def test_links_that_let_both_wheels_rise_but_not_one_alone_are_told() -> None:
    """A rod of 60, 100 outboard of the right wheel: it lets that end go 57 up and down, but with
    one wheel 57 up and the other 57 down that end has to go 57 x 800 / 700 = 65."""
    rod = Rod("short", vec(AXLE_X, -740.0, 260.0), vec(AXLE_X, -800.0, 260.0))
    car = made_axle(axle(*three_parallel(), rod), {"droop": 57.0, "bump": 57.0})
    alike = compute(car.document, {}, over_heave, car.axle)

    finding = only(car, "wheel_travel")

    assert np.isfinite(alike.aside).all()
    assert finding.verdict == "no"
    assert "lock 9" in finding.sentence
    assert "57 of bump, the other wheel at 57 of droop" in finding.sentence or (
        "57 of droop, the other wheel at 57 of bump" in finding.sentence
    )
    (gentle,) = found(
        car.changed(car.corner, "droop", 40.0).changed(car.corner, "bump", 40.0).document,
        "wheel_travel",
    )
    assert gentle.verdict == "fine"


def test_an_axle_that_steers_on_bump_is_told_by_how_much_and_roll_steer_with_it() -> None:
    heaved, rolled = (
        compute(SKEW.document, {}, cell, SKEW.axle) for cell in (over_heave, over_roll)
    )
    short = SKEW.moved("lower left inner", "at.z", 260.0)
    turned = compute(short.document, {}, over_heave, short.axle).steer_deg
    worst = float(turned[np.abs(turned).argmax()])

    finding = only(short, "bump_steer")

    assert np.abs(heaved.steer_deg).max() < 1e-6
    assert np.isfinite(rolled.steer_deg).all()
    assert finding.verdict == "no"
    assert finding.measured == pytest.approx(abs(worst))
    assert finding.limit == 0.15
    way = "left" if worst > 0.0 else "right"
    assert f"axle steers by {abs(worst):.2f} deg to the {way} at 60 of" in finding.sentence
    assert "A degree of roll, left side up, steers it by" in finding.sentence


def test_the_way_an_axle_steers_in_roll_is_told_but_breaks_nothing() -> None:
    """A torque tube whose ball is 80 above the rod, 960 ahead: -80 / 960 for each degree."""
    car = made_axle(kinds()["torque tube"])

    finding = only(car, "bump_steer")

    assert finding.verdict == "fine"
    assert "A degree of roll, left side up, steers it by 0.08 deg to the right" in finding.sentence


def test_a_limit_for_the_axle_goes_before_the_general_one() -> None:
    car = SKEW.moved("lower left inner", "at.z", 260.0)
    measured = only(car, "bump_steer").measured
    assert measured is not None
    kept = set_limit(car.document, "bump_steer", measured + 0.1, "mine", only_for=car.axle)

    (finding,) = found(kept, "bump_steer")

    assert finding.verdict == "fine"
    assert finding.limit == pytest.approx(measured + 0.1)


def test_a_damper_is_asked_at_each_wheel_and_says_where_the_other_is() -> None:
    car = made_axle(kinds()["torque tube"], closed_length=300.0, open_length=420.0)

    closed, opened = (found(car.document, f"damper_{way}") for way in ("closed", "open"))

    assert [each.subjects for each in closed] == [(car.corner,), (car.corner.mirrored(),)]
    assert {each.verdict for each in (*closed, *opened)} == {"no", "fine"}


def joint(kind: JointKind, by: CarriedBy, direction: tuple[float, float, float]) -> LinkEnd:
    return LinkEnd(kind=kind, carried_by=by, direction=Vec3(*direction), tilt_limit_deg=5.0)


def everywhere(drawn: RigidAxle) -> AxlePoses:
    heights = np.linspace(-60.0, 60.0, 13)
    return solve_axle(drawn, wheels_at(heights[:, None], heights))


def off_square(along: Array, bolt: Array) -> float:
    return float(np.degrees(np.arcsin(np.abs(np.sum(unit(along) * bolt, axis=-1)))).max())


def tilt_of(car: Made, point: str, side: str = "left") -> EndTilt | NoTilt:
    corner = car.corner if side == "left" else car.corner.mirrored()
    return next(e for e in compute(car.document, {}, tilts, corner) if e.end == car.points[point])


def test_a_joint_of_the_axle_tilts_as_one_wheel_rises_and_the_other_falls() -> None:
    """Angles between link and bolt at all heights of both wheels, worked out from the room."""
    drawn = triangulated()
    rod, bolt = drawn.constraints[0], np.array([0.0, 1.0, 0.0])
    assert isinstance(rod, Rod)
    poses = everywhere(drawn)
    along = poses.at(rod.outer) - rod.inner
    wanted = off_square(along, bolt), off_square(poses.turned_back(along), bolt)
    car = FOUR.with_joint("lower left inner", joint("rod_end", "frame", (0.0, 1.0, 0.0)))
    car = car.with_joint("lower left outer", joint("rod_end", "upright", (0.0, 1.0, 0.0)))

    both = tilt_of(car, "lower left inner"), tilt_of(car, "lower left outer")

    assert all(isinstance(each, EndTilt) for each in both)
    assert [each.tilt_deg for each in both if isinstance(each, EndTilt)] == pytest.approx(wanted)
    assert isinstance(both[1], EndTilt)
    assert both[1].other is not None
    assert both[1].other == pytest.approx(-both[1].bump)
    assert wanted[1] > 2.9


def test_a_joint_too_tight_says_where_both_wheels_are() -> None:
    stiff = replace_limit(joint("rod_end", "upright", (0.0, 1.0, 0.0)), 1.0)
    car = FOUR.with_joint("lower left outer", stiff)

    finding = next(e for e in found(car.document, "link_tilt") if e.verdict == "no")

    assert finding.subjects == (car.points["lower left outer"], car.corner)
    assert "the other wheel at 60 of" in finding.governing
    assert "60 of" in finding.governing.split(",")[0]


def replace_limit(joint_: LinkEnd, limit: float) -> LinkEnd:
    return LinkEnd(
        kind=joint_.kind,
        carried_by=joint_.carried_by,
        direction=joint_.direction,
        tilt_limit_deg=limit,
    )


def test_each_joint_of_the_axle_is_told_at_the_side_that_its_link_ends_on() -> None:
    ends = [
        {each.end for each in compute(FOUR.document, {}, tilts, corner)}
        for corner in (FOUR.corner, FOUR.corner.mirrored())
    ]

    assert not ends[0] & ends[1]
    for point, at in FOUR.points.items():
        if point in ("eye", "top"):
            continue
        assert at in ends[0 if "left" in point else 1]


def test_the_ball_of_a_torque_tube_tilts_as_far_as_the_tube() -> None:
    drawn = kinds()["torque tube"]
    car = made_axle(drawn).with_joint("ball", joint("ball", "upright", (0.0, 0.0, 1.0)))
    poses, up = everywhere(drawn), np.array([0.0, 0.0, 1.0])
    wanted = np.degrees(np.arccos(np.minimum(poses.turned(up)[..., 2], 1.0)))

    told = tilt_of(car, "ball")

    assert isinstance(told, EndTilt)
    assert told.tilt_deg == pytest.approx(float(wanted.max()), abs=1e-6)
    assert car.points["ball"] not in {
        each.end for each in compute(car.document, {}, tilts, car.corner.mirrored())
    }


ACROSS = 430.0 + 12.5 + 20.0 + 4.0
"""Height of a tube 40 outside, 4 clear of the upper link as drawn, which is 25 outside."""


def with_tube(car: Made, z: float = ACROSS) -> Document:
    """A tube across the car over the upper link."""
    document, material = make(car.document, Material, "steel", density_kg_m3=7850.0)
    sizes = {"outside": 40.0, "wall": 2.0, "material": Ref(material.id)}
    document, section = make(document, Section, "T40", **sizes)
    ends: list[Ref] = []
    for name, y in (("A", 400.0), ("B", -400.0)):
        document, point = make(document, Point, name, at=Vec3(AXLE_X + 200.0, y, z))
        ends.append(Ref(point.id))
    places = {"section": Ref(section.id), "start": ends[0], "end": ends[1]}
    return make(document, Tube, "cross", **places)[0]


def test_a_link_of_the_axle_near_a_tube_is_told_once_and_as_the_axles() -> None:
    document = with_tube(PARALLEL)

    findings = [each for each in found(document, "moving_gap") if each.verdict == "no"]

    (finding,) = findings
    assert finding.sentence.startswith("upper middle of axle meets cross at 60 of bump")
    assert finding.subjects[0] == PARALLEL.corner


def test_the_gap_of_a_link_is_the_least_over_every_height_of_both_wheels() -> None:
    """The tube lies level across; the link, by the room, at every height of both wheels."""
    drawn = kinds()["three links and Panhard rod"]
    rod = drawn.constraints[2]
    assert isinstance(rod, Rod)
    outer = everywhere(drawn).at(rod.outer)
    share = (rod.inner[0] - AXLE_X - 200.0) / (rod.inner[0] - outer[..., 0])
    over = rod.inner[2] + share * (outer[..., 2] - rod.inner[2])
    lean = np.cos(np.arctan2(outer[..., 2] - rod.inner[2], rod.inner[0] - outer[..., 0]))
    wanted = float(((520.0 - over) * lean).min()) - 20.0 - 12.5

    gaps = compute(with_tube(PARALLEL, 520.0), {}, moving_gaps, PARALLEL.corner)

    assert gaps.reach >= wanted
    (upper,) = [gap for gap in gaps.gaps if gap.part == "upper middle" and gap.other is not None]
    assert upper.gap == pytest.approx(wanted, abs=0.5)
    assert upper.others_height is not None


def test_what_an_axle_looks_like_is_not_known_and_that_is_said_once() -> None:
    findings = found(FOUR.document, "moving_gap")

    told = [each for each in findings if "the shape of the axle itself" in each.sentence]
    assert len(told) == 1
    assert told[0].verdict == "unknown"


def test_what_the_frame_has_to_carry_has_the_links_of_the_axle_among_it() -> None:
    document = with_tube(FOUR)
    wanted = {at for point, at in FOUR.points.items() if point.endswith("inner")}

    told = {each.subjects[0] for each in found(document, "not_carried")}

    assert wanted <= told
    assert FOUR.points["lower left outer"] not in told


def test_the_demo_cars_have_no_finding_of_an_axle() -> None:
    for document in (demo().drawn, second().drawn):
        axles = {Ref(each.id) for each in document.axles}
        findings = table(document).findings()
        own = [each for each in findings if each.rule in OF_CORNERS]
        assert own
        assert not [each for each in own if axles & set(each.subjects)]


@pytest.mark.parametrize("point", ["lower left inner", "Panhard rod outer", "eye"])
def test_a_drag_of_a_point_leaves_the_table_as_it_would_be_made_afresh(point: str) -> None:
    drawn = kinds()["three links and Panhard rod"]
    car = made_axle(drawn, closed_length=280.0, open_length=420.0, spring_rate=20.0)
    at, document = car.points[point], car.document
    start = next(each.at for each in document.points if each.id == at.id)
    assert start is not None
    before = table(document)
    last = before
    for step in (4.0, -11.0, 25.0):
        document = move_point(document, at, start._replace(z=start.z + step))
        last = table(document, last)

    fresh = table(document)

    assert last.findings() == fresh.findings()
    assert last.findings() != before.findings()
    assert not last.behind
