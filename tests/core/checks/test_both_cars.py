"""The three checks on both cars against their own independent check (tests/cars/*.json)."""

from collections.abc import Callable
from typing import Any

import pytest

from core.assess.clearance import closest_at_rest, gaps_on_way_out, lift_to_clear
from core.assess.frame import frame_figures
from core.assess.places import tube_shape
from core.assess.width import axle_width, bench_shaft, driven_pairs, shaft_at_design
from core.checks.rules import assess_all, to_look_at
from core.document.project import Document, Project
from core.engine.assess import Assessment, compute
from core.engine.finding import Finding
from tests.cars.stored import demo, empty, expected, only_tubes, ref, second

Car = Callable[[], Project]
MM = 0.06  # the reference figures are printed to 0.1 mm; joints are stored to 0.01 mm
PLUNGE = 0.006  # printed to 0.01 mm


@pytest.fixture(scope="module")
def demo_table() -> Assessment:
    return assess_all(demo().drawn, {})


@pytest.fixture(scope="module")
def second_table() -> Assessment:
    return assess_all(second().drawn, {})


def by_label(document: Document, tube: str) -> str:
    return f"{ref(document, tube)}"


def found(table: Assessment, rule: str) -> list[Finding]:
    return [finding for finding in table.findings() if finding.rule == rule]


def test_demo_car_has_nothing_open_that_fails_or_is_unknown(demo_table: Assessment) -> None:
    verdicts = {finding.verdict for finding in to_look_at(demo_table) if not finding.accepted}

    assert verdicts == {"fine", "tight"}


def test_open_bays_of_the_demo_car_are_told_of_and_accepted(demo_table: Assessment) -> None:
    bays = [finding for finding in to_look_at(demo_table) if finding.rule == "open_bay"]

    assert [bay.verdict for bay in bays] == ["no", "no"]
    assert all("drive shaft passes" in bay.accepted for bay in bays)


def test_second_car_says_only_what_its_joints_are_and_that_nothing_carries_its_rack(
    second_table: Assessment,
) -> None:
    open_ones = [f for f in to_look_at(second_table) if f.verdict in ("no", "unknown")]

    # Its file tells no joint at the end of any link, and no foot of the rack; nor how long its
    # springs are, and no bump stop.
    joints_and_springs = [*["bump_stop"] * 2, *["coil_bind"] * 2, *["hangs", "link_tilt"] * 4]
    assert sorted(f.rule for f in open_ones) == sorted([*joints_and_springs, "not_carried"])
    joints = {f.subjects[0] for f in open_ones if f.rule == "link_tilt"}
    assert joints == {
        ref(second_table.document, f"{end} corner {side}")
        for end in ("front", "rear")
        for side in ("left", "right")
    }
    (rack,) = [f for f in open_ones if f.rule == "not_carried"]
    assert "steering_rack" in rack.sentence


@pytest.mark.parametrize(("name", "project"), [("demo-car", demo), ("second-car", second)])
def test_closest_gaps_and_their_tubes(name: str, project: Car) -> None:
    document, wanted = project().drawn, expected(name)
    rest = compute(document, {}, closest_at_rest)
    way = ref(document, document.ways_out[0].name)
    out = compute(document, {}, gaps_on_way_out, way)[0]

    for gap, key in ((rest, "power_unit_clearance_min"), (out, "drop_path_clearance_min")):
        mm, tube, part = wanted[key]
        assert gap.gap == pytest.approx(mm, abs=MM)
        assert (str(gap.tube), gap.part) == (by_label(document, tube), part)


def test_lift_to_roll_the_unit_out_and_what_governs_it() -> None:
    document, wanted = demo().drawn, expected("demo-car")
    way = ref(document, document.ways_out[0].name)

    lift = compute(document, {}, lift_to_clear, way)

    assert lift is not None
    assert lift.governed_by is not None
    assert lift.height == pytest.approx(wanted["lift_needed_to_slide_out_rearwards_mm"], abs=MM)
    tube, part = wanted["lift_governed_by"]
    assert (str(lift.governed_by.tube), lift.governed_by.part) == (by_label(document, tube), part)


def test_a_unit_that_leaves_upwards_is_not_rolled_out() -> None:
    document = second().drawn

    assert compute(document, {}, lift_to_clear, ref(document, document.ways_out[0].name)) is None


@pytest.mark.parametrize(("name", "project"), [("demo-car", demo), ("second-car", second)])
def test_plunge_and_angles_at_the_design_position(name: str, project: Car) -> None:
    document = project().drawn

    for left, right in compute(document, {}, driven_pairs):
        for side, shaft in (("left", left), ("right", right)):
            rows = expected(name)["shafts"][side]["rows"]
            _, plunge, inner, outer = next(row for row in rows if row[0] == 0)
            at = compute(document, {}, shaft_at_design, shaft)
            assert at.plunge == pytest.approx(plunge, abs=PLUNGE)
            assert at.inner_angle_deg == pytest.approx(inner, abs=PLUNGE)
            assert at.outer_angle_deg == pytest.approx(outer, abs=PLUNGE)


@pytest.mark.parametrize(
    ("name", "project", "key"),
    [("demo-car", demo, "rear"), ("second-car", second, "front")],
)
def test_track_follows_from_the_shafts(name: str, project: Car, key: str) -> None:
    document = project().drawn
    (pair,) = compute(document, {}, driven_pairs)

    width = compute(document, {}, axle_width, *pair)

    assert width.track == pytest.approx(expected(name)[f"{key}_track_from_shafts"], abs=0.01)
    for side in (0, 1):
        assert width.ranges[side].lower < width.planes[side] < width.ranges[side].upper


def test_bench_readings_give_the_shafts_and_their_doubt() -> None:
    document = demo().drawn
    (pair,) = compute(document, {}, driven_pairs)

    for side, shaft in zip(("left", "right"), pair, strict=True):
        wanted = expected("demo-car")["shafts"][side]["from_bench"]
        bench = compute(document, {}, bench_shaft, shaft)
        assert bench is not None
        assert bench.length == pytest.approx(wanted["length_joint_centres"], abs=1e-9)
        assert bench.length_plus_minus == pytest.approx(wanted["plus_minus"], abs=0.005)
        assert bench.stroke == pytest.approx(wanted["stroke"], abs=1e-9)


def test_reach_of_every_mount_and_pick_up_of_the_demo_car(demo_table: Assessment) -> None:
    document, wanted = demo().drawn, expected("demo-car")
    reaches = {f.subjects[0]: f.measured for f in found(demo_table, "bracket_reach")}
    given = {
        **wanted["mount_reach_mm"],
        **{f"{end}_{p}_L": mm for end in ("front", "rear") for p, mm in _reach(wanted, end)},
    }

    for label, mm in given.items():
        assert reaches[ref(document, label)] == pytest.approx(mm, abs=MM), label
    feet = [reaches[ref(document, f"rack_foot_{s}")] or 0.0 for s in "LR"]
    assert sorted(feet) == pytest.approx(sorted(wanted["rack_feet_reach_mm"]), abs=MM)


def _reach(wanted: dict[str, Any], end: str) -> list[tuple[str, float]]:
    return list(wanted[end]["pickup_reach_mm"].items())


def test_reach_of_both_sides_of_the_second_car(second_table: Assessment) -> None:
    document, wanted = second().drawn, expected("second-car")
    reaches = {f.subjects[0]: f.measured for f in found(second_table, "bracket_reach")}

    for end in ("front", "rear"):
        for name, mm in wanted[end]["pickup_reach_mm"].items():
            side, point = ("R", name[2:]) if name.startswith("R:") else ("L", name)
            assert reaches[ref(document, f"{end}_{point}_{side}")] == pytest.approx(mm, abs=MM)


@pytest.mark.parametrize(("name", "project"), [("demo-car", demo), ("second-car", second)])
def test_frame_in_figures(name: str, project: Car) -> None:
    wanted = expected(name)["frame"]

    figures = compute(project().drawn, {}, frame_figures)

    assert figures.tubes == wanted["members"]
    assert figures.joints == wanted["nodes"]
    assert figures.bends == wanted["bends"]
    assert figures.weight.length / 1000 == pytest.approx(wanted["tube_length_m"], abs=0.006)
    assert figures.weight.mass_kg == pytest.approx(wanted["tube_mass_kg"], abs=MM)
    assert figures.weight.centre == pytest.approx(wanted["tube_cg"], abs=0.06)


def test_stay_is_as_long_as_its_ends_are_apart(demo_table: Assessment) -> None:
    (stay,) = found(demo_table, "stay_fit")

    assert stay.verdict == "fine"
    assert f"{expected('demo-car')['torque_stay_length_mm']:.1f}" in stay.sentence


def test_empty_car_says_that_it_does_not_know() -> None:
    findings = to_look_at(assess_all(empty(), {}))

    assert {f.verdict for f in findings} == {"unknown"}
    assert all(f.sentence for f in findings)


def test_car_with_only_tubes_knows_its_load_paths_and_nothing_else() -> None:
    table = assess_all(only_tubes(), {})

    unknown = {rule.room for rule in table.rules if table.findings_of(rule)}
    assert unknown >= {"width", "suspension", "clearance"}
    assert "load paths" not in unknown
    assert {f.verdict for f in table.findings()} == {"unknown"}


def test_a_pair_by_name_whose_halves_are_no_mirror_images_keeps_both_lengths() -> None:
    document = demo().drawn
    lengths = [
        compute(document, {}, tube_shape, ref(document, f"M67_G_vee_{side}")).length
        for side in "LR"
    ]

    # Node to node: |(0, 249.66, 140)| and |(0, 369.66, 140)|.
    assert lengths == pytest.approx([286.2, 395.3], abs=MM)


def test_a_car_without_a_way_out_does_not_know_how_its_unit_leaves() -> None:
    document = demo().drawn
    without = type(document)(
        **{f: getattr(document, f) for f in document.__struct_fields__ if f != "ways_out"}
    )

    findings = to_look_at(assess_all(without, {}))

    assert [f.verdict for f in findings if f.rule == "way_out"] == ["unknown"]
