"""Where figures come from, carried from the source files as facts."""

import pytest

from core.document.base import Fact
from core.document.lookup import entities
from core.document.project import Project
from tests.cars.convert import (
    DEMO,
    SECOND,
    project_of,
)
from tests.cars.neutral import Plain, read_neutral


@pytest.fixture(scope="module")
def demo() -> Plain:
    return read_neutral(DEMO)


def facts(project: Project, name: str) -> dict[str, Fact]:
    (thing,) = (e for e in entities(project.drawn) if e.name == name and e.facts)
    return {fact.of: fact for fact in thing.facts}


def test_a_source_is_a_fact_of_the_figure_it_names(demo: Plain) -> None:
    project = project_of(demo)
    wheel = facts(project, "front wheel")
    assert (wheel[""].source, wheel["offset"].source) == ("in_hand", "measured")
    assert wheel["offset"].uncertainty == 0.5
    shaft = facts(project, "drive_shaft")
    assert (shaft["length"].source, shaft["length"].side) == ("measured", "one")
    assert facts(project, "driver")[""].uncertainty == 1.0
    assert facts(project, "M3_torque_stay")["stop_gap"].source == "guessed"


def test_every_source_but_those_of_figures_worked_out_is_kept(demo: Plain) -> None:
    # Each measured source has its figures in one branch; both shafts are one pair.
    listed = [s for s in demo["sources"]["list"] if s["state"] == "measured"]
    kept = [
        fact
        for thing in entities(project_of(demo).drawn)
        for fact in thing.facts
        if fact.source == "measured"
    ]
    of_right_shaft = [s for s in listed if ".drive_shafts.right" in s["path"]]
    of_unit_mass_twice = [s for s in listed if s["path"] == "masses.1"]
    assert len(kept) == len(listed) - len(of_right_shaft) - len(of_unit_mass_twice)


def test_the_shafts_hold_the_width_of_the_driven_axle(demo: Plain) -> None:
    drawn = project_of(demo).drawn
    rear = next(corner for corner in drawn.corners if corner.name == "rear corner")
    (held,) = (fact for fact in rear.facts if fact.held)
    assert held.of == "upright.hub_face.y"
    (shaft,) = drawn.drive_shafts
    assert {str(because.ref) for because in held.because} >= {
        f"{shaft.id}:left",
        f"{shaft.id}:right",
    }


def test_a_file_without_sources_gives_no_facts() -> None:
    drawn = project_of(read_neutral(SECOND)).drawn
    assert not any(thing.facts for thing in entities(drawn))


def test_what_a_file_has_not_is_absent_and_not_made_up() -> None:
    drawn = project_of(read_neutral(SECOND)).drawn
    for absent in ("brakes", "brake_systems", "runs", "panels", "shells", "fasteners", "controls"):
        assert getattr(drawn, absent) == ()
    assert not any(point.joint for point in drawn.points)
