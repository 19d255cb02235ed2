"""The rule on gaps of what moves with the wheels: what it says of cars that keep and break it."""

from typing import Any

import msgspec
import pytest

from core.checks.moving import RULES
from core.document.base import Ref, Vec3
from core.document.layers import replace_thing
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.records import Limit
from core.document.running_gear import Axle, Corner
from core.edits.things import make
from core.engine.assess import assess
from core.engine.finding import Finding
from core.study.faults import fault
from tests.cars.stored import demo, empty, only_tubes, ref, second


def said(document: Document) -> list[Finding]:
    return list(assess(document, {}, None, RULES).findings())


def of(document: Document, corner: str) -> list[Finding]:
    place = Lookup(document).find(corner)[0]
    return [finding for finding in said(document) if finding.subjects[:1] == (place,)]


def changed(document: Document, corner: str, **values: Any) -> Document:  # noqa: ANN401
    thing = Lookup(document).by_id[Lookup(document).find(corner)[0].id]
    return replace_thing(document, msgspec.structs.replace(thing, **values))


def limited(document: Document, mm: float, only_for: Ref | None = None) -> Document:
    """With a limit of the builder's own; for all in place of the one the car has."""
    if only_for is None:
        kept = tuple(limit for limit in document.limits if limit.rule != "moving_gap")
        document = msgspec.structs.replace(document, limits=kept)
    return make(document, Limit, "gap", rule="moving_gap", value=mm, unit="mm", only_for=only_for)[
        0
    ]


@pytest.mark.parametrize("document", [empty(), only_tubes()], ids=["empty", "only tubes"])
def test_a_car_without_wheels_does_not_know(document: Document) -> None:
    (finding,) = said(document)

    assert finding.verdict == "unknown"
    assert "no corner" in finding.sentence


def test_a_corner_of_which_only_the_hub_face_is_known_does_not_know() -> None:
    document, axle = make(empty(), Axle, "front", end="front")
    upright = {"hub_face": Vec3(0.0, 700.0, 300.0), "spin_axis": Vec3(0.0, 1.0, 0.0)}
    document, _ = make(document, Corner, "wheel", pair=True, axle=Ref(axle.id), upright=upright)

    found = said(document)

    assert [finding.verdict for finding in found] == ["unknown", "unknown"]
    assert all("is not known: " in finding.sentence for finding in found)


@pytest.mark.parametrize(("side", "tube"), [("left", "M57_J_to_K_L"), ("right", "M57_J_to_K_R")])
def test_rear_of_the_demo_car_is_tight_at_its_damper_alone(side: str, tube: str) -> None:
    document = demo().drawn
    (finding,) = of(document, f"rear corner {side}")

    assert (finding.verdict, finding.limit) == ("tight", 5.0)
    assert finding.measured == pytest.approx(8.2, abs=0.05)  # its own independent check
    assert finding.subjects[-1] == ref(document, tube)
    assert finding.governing == "50 of droop"
    assert f"within 8.2 of {tube} at 50 of droop." in finding.sentence
    assert finding.limit_source == "builder's own"


def test_front_of_the_demo_car_has_a_track_rod_near_its_lower_arm_at_full_lock() -> None:
    for side, lock in (("left", "right"), ("right", "left")):
        (finding,) = of(demo().drawn, f"front corner {side}")

        assert finding.verdict == "no"
        assert finding.measured == pytest.approx(0.8, abs=0.05)  # found here; nothing else told
        assert finding.sentence.startswith(f"lower_front of front corner {side} comes within 0.8")
        assert finding.governing == f"60 of droop, rack 60 {lock}"


def test_second_car_has_nothing_that_fails_or_is_unknown() -> None:
    assert {finding.verdict for finding in said(second().drawn)} == {"tight"}


def test_too_much_droop_is_seen_on_both_sides_as_an_overlap() -> None:
    document = fault("SF11").overlay(demo().drawn)

    for side in ("left", "right"):
        first = of(document, f"rear corner {side}")[0]
        assert first.verdict == "no"
        assert first.measured == pytest.approx(-10.2, abs=0.1)  # its own independent check
        assert "The spring of rear corner" in first.sentence
        assert "overlap by 10.2 or more" in first.sentence
        assert first.governing == "90 of droop"


def test_worst_comes_first_and_no_pair_twice() -> None:
    found = of(fault("SF11").overlay(demo().drawn), "rear corner left")
    figures = [finding.measured for finding in found]

    assert len(found) > 3
    assert figures == sorted(figures, key=lambda figure: figure or 0.0)
    assert len({finding.key for finding in found}) == len(found)


def test_where_all_is_fine_the_closest_is_named_and_no_other() -> None:
    (finding,) = of(limited(demo().drawn, 1.0), "rear corner left")

    assert finding.verdict == "fine"
    assert finding.measured == pytest.approx(8.2, abs=0.05)


def test_a_limit_for_one_tube_goes_before_that_for_all() -> None:
    tube = ref(demo().drawn, "M57_J_to_K_L")

    (finding,) = of(limited(demo().drawn, 9.0, tube), "rear corner left")

    assert (finding.verdict, finding.limit) == ("no", 9.0)
    assert finding.subjects[-1] == tube
    assert "9.0 is wanted" in finding.sentence


def test_a_car_without_a_limit_of_its_own_is_held_against_the_programs() -> None:
    document = msgspec.structs.replace(demo().drawn, limits=())

    (finding,) = of(document, "rear corner left")

    assert (finding.limit, finding.limit_source) == (5.0, "common practice, no source")


def test_a_wide_limit_is_looked_for_as_far_as_it_asks() -> None:
    narrow, wide = (of(limited(demo().drawn, mm), "rear corner left") for mm in (50.0, 90.0))

    assert all(finding.verdict in ("no", "tight") for finding in wide)
    assert max(finding.measured or 0.0 for finding in wide) > 80.0
    assert len(wide) > len(narrow)


def test_a_link_without_a_diameter_is_said_beside_what_is_known() -> None:
    document = demo().drawn
    corner = Lookup(document).by_id[Lookup(document).find("rear corner left")[0].id]
    assert isinstance(corner, Corner)
    links = tuple(msgspec.structs.replace(link, outside=None) for link in corner.links)

    found = of(changed(document, "rear corner left", links=links), "rear corner left")

    assert [finding.verdict for finding in found] == ["tight", "unknown"]
    for link in corner.links:
        assert f"the outside diameter of {link.name} of rear corner left" in found[1].sentence


def test_unknown_travel_is_unknown() -> None:
    (finding,) = of(changed(demo().drawn, "rear corner left", droop=None), "rear corner left")

    assert finding.verdict == "unknown"
    assert "how far the wheel of rear corner left droops" in finding.sentence


def test_nothing_near_is_said_and_gives_no_figure() -> None:
    document = msgspec.structs.replace(demo().drawn, drive_shafts=(), tubes=demo().drawn.tubes[:1])
    corner = Lookup(document).by_id[Lookup(document).find("rear corner left")[0].id]
    assert isinstance(corner, Corner)
    document = changed(document, "rear corner left", damper=None, tyre=None)
    links = tuple(
        msgspec.structs.replace(link, outside=8.0 if link.name == "lower_lateral" else None)
        for link in corner.links
    )

    found = of(changed(document, "rear corner left", links=links), "rear corner left")

    assert [finding.verdict for finding in found] == ["fine", "unknown"]
    assert found[0].measured is None
    assert "Nothing that moves with rear corner left comes within 60" in found[0].sentence
