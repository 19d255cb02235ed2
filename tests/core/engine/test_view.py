"""What a cell gets from its Reader stands in for the thing, and tells of all that is looked at."""

from collections.abc import Callable
from typing import Any

import pytest

from core.document.base import Fact, Own, Ref, Vec3
from core.document.power import MeshRef, Outputs, PowerUnit
from core.document.project import Document
from core.document.steel import Along, LinkEnd, Point
from core.engine.assess import compute
from core.engine.cells import NotComputedError, Reader, When, cell
from core.engine.view import FieldKey, FormKey, Key, Recording, View

UNIT = Ref("power_unit1")
SHA = "a" * 64


def unit(outputs: Outputs | None = None, mesh: MeshRef | None = None) -> PowerUnit:
    at = Vec3(1.0, 2.0, 3.0)
    return PowerUnit(id="power_unit1", name="engine", origin=at, outputs=outputs, mesh=mesh)


class Watched:
    """A stand-in for a thing, and what was read of it."""

    def __init__(self, thing: PowerUnit | Point) -> None:
        self.reads: dict[Key, object] = {}
        self.ref = Ref(thing.id)
        self.thing: Any = Recording(thing, self.ref, "", self.reads.__setitem__)

    def seen(self) -> set[Key]:
        return set(self.reads)


def test_each_value_that_is_taken_is_a_read_with_its_value() -> None:
    watched = Watched(unit())

    assert watched.thing.origin == Vec3(1.0, 2.0, 3.0)
    assert watched.reads == {FieldKey(UNIT, "origin"): Vec3(1.0, 2.0, 3.0)}


def test_what_is_not_looked_at_is_no_read() -> None:
    assert Watched(unit()).seen() == set()


def test_a_group_of_values_is_a_read_of_its_being_there_and_of_what_is_taken_from_it() -> None:
    outputs = Outputs(left=Vec3(0.0, 1.0, 0.0), right=Vec3(0.0, -1.0, 0.0))
    watched = Watched(unit(outputs))

    assert watched.thing.outputs.left.y == 1.0
    assert watched.reads == {
        FormKey(UNIT, "outputs"): Outputs,
        FieldKey(UNIT, "outputs.left"): outputs.left,
    }


def test_a_group_that_is_not_there_is_a_read() -> None:
    watched = Watched(unit())

    assert watched.thing.outputs is None
    assert watched.reads == {FieldKey(UNIT, "outputs"): None}


def test_a_group_is_not_none_without_its_values_being_read() -> None:
    watched = Watched(unit(mesh=MeshRef(sha256=SHA)))

    assert watched.thing.mesh is not None
    assert watched.thing.mesh
    assert watched.reads == {FormKey(UNIT, "mesh"): MeshRef}


def test_a_list_is_read_whole() -> None:
    point = Point(id="point1", name="K", along=Along(tube=Ref("tube1"), distance=2.0))
    watched = Watched(point)

    assert watched.thing.facts == ()
    assert watched.reads == {FieldKey(Ref("point1"), "facts"): ()}


def test_a_reference_in_a_group_is_a_plain_value() -> None:
    point = Point(id="point1", name="K", along=Along(tube=Ref("tube1"), distance=2.0))
    watched = Watched(point)

    assert type(watched.thing.along.tube) is Ref
    assert FieldKey(Ref("point1"), "along.tube") in watched.seen()


MESH = MeshRef(sha256=SHA)


@pytest.mark.parametrize(
    "use",
    [
        lambda mesh: mesh == MESH,
        lambda mesh: MESH == mesh,  # noqa: SIM300 - the other order is what is meant
        lambda mesh: mesh in (MESH, None),
        lambda mesh: {MESH: 1}[mesh] == 1,
        lambda mesh: hash(mesh) == hash(MESH),
        lambda mesh: repr(mesh) == repr(MESH),
        lambda mesh: str(mesh) == str(MESH),
        lambda mesh: f"{mesh}" == str(MESH),
        lambda mesh: mesh.whole() is MESH,
        lambda mesh: mesh == mesh,  # noqa: PLR0124 - each side is read
    ],
)
def test_a_group_used_whole_is_read_whole(use: Callable[[Any], bool]) -> None:
    watched = Watched(unit(mesh=MESH))

    assert use(watched.thing.mesh)
    assert watched.reads[FieldKey(UNIT, "mesh")] is MESH


def test_groups_of_unlike_values_are_unlike() -> None:
    watched = Watched(unit(mesh=MESH))

    assert watched.thing.mesh != MeshRef(sha256="b" * 64)
    assert watched.thing.mesh != "mesh"


@pytest.mark.parametrize("name", ["no_such", "__struct_config__", "__deepcopy__", "tag"])
def test_what_a_thing_has_not_its_stand_in_has_not(name: str) -> None:
    watched = Watched(unit())

    with pytest.raises(AttributeError):
        getattr(watched.thing, name)
    assert watched.seen() == set()


def test_methods_work_on_the_stand_in_so_that_their_reads_count() -> None:
    class Named(PowerUnit, tag="named", frozen=True, kw_only=True):
        @property
        def height(self) -> float:
            return self.origin.z

        def shifted(self, by: float) -> float:
            return self.origin.x + by

    thing = Named(id="named1", name="engine", origin=Vec3(1.0, 2.0, 3.0))
    watched = Watched(thing)

    assert watched.thing.height == 3.0
    assert watched.thing.shifted(4.0) == 5.0
    assert watched.seen() == {FieldKey(Ref("named1"), "origin")}


def test_a_view_gives_the_right_hand_piece_mirrored_with_its_own_values() -> None:
    point = Point(
        id="point1",
        name="K",
        pair=True,
        at=Vec3(1.0, 2.0, 3.0),
        right=(Own(of="at.z", value=9.0),),
        facts=(Fact(of="at", source="measured"),),
    )
    view = View(Document(next_number=2, points=(point,)), {})

    assert view.value(FieldKey(Ref("point1", "left"), "at")) == Vec3(1.0, 2.0, 3.0)
    assert view.value(FieldKey(Ref("point1", "right"), "at")) == Vec3(1.0, -2.0, 9.0)


@cell(When.LIVE)
def given_away(read: Reader) -> Any:  # noqa: ANN401 - what no cell should return
    return read.thing(PowerUnit, UNIT).mesh


@cell(When.LIVE)
def given_away_inside(read: Reader) -> tuple[Any, ...]:
    return (read.thing(PowerUnit, UNIT).mesh,)


@cell(When.LIVE)
def looked_at_too_late(read: Reader) -> str:
    return str(read(given_away_inside)[0].sha256)


def test_a_cell_that_returns_a_group_has_read_it_whole() -> None:
    document = Document(next_number=2, power_units=(unit(mesh=MESH),))

    assert compute(document, {}, given_away) is MESH


def test_what_a_cell_gave_away_unread_cannot_be_read_later() -> None:
    document = Document(next_number=2, power_units=(unit(mesh=MESH),))

    with pytest.raises(RuntimeError, match="gave away a part of the document"):
        compute(document, {}, looked_at_too_late)


@cell(When.LIVE)
def sha_of(read: Reader, mesh: MeshRef) -> str:
    del read
    return mesh.sha256


@cell(When.LIVE)
def passed_on(read: Reader) -> str:
    mesh = read.thing(PowerUnit, UNIT).mesh
    if mesh is None:
        msg = "there is no mesh"
        raise NotComputedError(msg)
    return read(sha_of, mesh)


def test_a_group_given_to_another_cell_is_read_whole() -> None:
    document = Document(next_number=2, power_units=(unit(mesh=MESH),))

    assert compute(document, {}, passed_on) == SHA


def test_joints_of_links_are_groups_inside_things() -> None:
    end = LinkEnd(kind="bush", carried_by="frame", direction=Vec3(1.0, 0.0, 0.0))
    watched = Watched(Point(id="point1", name="K", at=Vec3(0.0, 0.0, 0.0), joint=end))

    assert watched.thing.joint.direction.x == 1.0
    assert FieldKey(Ref("point1"), "joint.direction") in watched.seen()
