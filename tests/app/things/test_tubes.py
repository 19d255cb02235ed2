"""The tube tools: drawn between two joints, bent, parted, joined, put into a state, taken out."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication, QWidget

from app.look.look import Look
from app.panels.tubes import TubeTools, tube_action_specs
from app.panels.tubes.drawing import DrawTube
from app.panels.tubes.edits import point_on_tube, shape_of
from app.selection import Selection
from app.session import Session
from core.document.base import Ref, Vec3
from core.document.power import Mount
from core.document.steel import Bracket, Material, Point, Section, Tube
from core.edits.things import make
from core.edits.tubes import draw_tube
from tests.app.things.conftest import DEMO, SECOND
from tests.app.things.form_filling import choose, fill_field
from tests.app.things.hands import button, click, enter, fill, named, thing, value

A, B = Ref("point1", "left"), Ref("point2", "left")


@pytest.fixture
def tools(
    session: Session, selection: Selection, look: Look, show: Callable[[QWidget], None]
) -> TubeTools:
    made = TubeTools(session, selection, look)
    show(made)
    return made


@pytest.fixture
def joints(session: Session) -> None:
    """A car of a section and three points: nothing but what a tube needs."""

    def put(kind: type, name: str, **fields: object) -> None:
        session.apply(name, lambda d: make(d, kind, name, **fields)[0])

    put(Material, "steel", density_kg_m3=7850.0)
    put(Section, "T25", outside=25.0, wall=2.0, material=Ref("material1"))
    for name, at in (("A", (0, 0, 0)), ("B", (1000, 0, 0)), ("C", (1000, 0, 500))):
        put(Point, name, at=Vec3(*map(float, at)))


def drawing(tools: TubeTools) -> DrawTube:
    tools.begin("tube")
    assert isinstance(tools.form, DrawTube)
    return tools.form


@pytest.mark.usefixtures("joints")
def test_a_tube_is_drawn_between_two_joints_by_name(session: Session, tools: TubeTools) -> None:
    form = drawing(tools)
    fill_field(session, form.fields["start"], Ref(named(session, "A").id))
    fill_field(session, form.fields["end"], Ref(named(session, "B").id))

    click(form.do)

    (tube,) = session.state.document.tubes
    assert (tube.start.id, tube.end.id) == (named(session, "A").id, named(session, "B").id)
    assert shape_of(session.state.document, Ref(tube.id)).length == pytest.approx(1000.0)
    session.undo()
    assert session.state.document.tubes == ()


@pytest.mark.usefixtures("joints")
def test_two_joints_chosen_in_the_view_are_taken_and_the_next_tube_begins_at_the_end(
    session: Session, tools: TubeTools, selection: Selection
) -> None:
    a, b, c = (Ref(named(session, name).id) for name in "ABC")
    form = drawing(tools)

    selection.choose(a)
    selection.choose(b)
    click(form.do)
    selection.choose(c)
    click(form.do)

    first, second = session.state.document.tubes
    assert (first.start, first.end) == (a, b)
    assert (second.start, second.end) == (b, c)


@pytest.mark.usefixtures("joints")
def test_enter_draws_once_all_is_given_and_goes_to_what_is_missing_before(
    session: Session, tools: TubeTools
) -> None:
    form = drawing(tools)
    fill_field(session, form.fields["start"], Ref(named(session, "A").id))

    enter(form.fields["start"].line, "A")  # type: ignore[attr-defined]
    assert "«to» is not given yet" in form.sentence.text
    in_hand = QApplication.focusWidget()
    assert in_hand is not None
    assert form.fields["end"].isAncestorOf(in_hand)
    enter(form.fields["end"].line, "B")  # type: ignore[attr-defined]

    assert len(session.state.document.tubes) == 1


@pytest.mark.usefixtures("joints")
def test_a_joint_to_itself_is_refused_at_the_place(session: Session, tools: TubeTools) -> None:
    before = session.state
    form = drawing(tools)
    for end in ("start", "end"):
        fill_field(session, form.fields[end], Ref(named(session, "A").id))

    click(form.do)

    assert session.state is before
    assert "ends at the joint it starts from" in form.sentence.text


def test_nothing_can_be_drawn_without_joints_and_the_form_says_what_is_missing(
    session: Session, tools: TubeTools
) -> None:
    before = session.state
    form = drawing(tools)

    click(form.do)

    assert session.state is before
    assert form.sentence.text == "«from» is not given yet."


@pytest.mark.parametrize("car", [DEMO, SECOND], ids=["demo car", "second car"])
@pytest.mark.parametrize("side", ["left", "right"])
def test_between_pieces_of_one_side_the_tube_is_a_pair_and_stands_where_it_was_drawn(
    session: Session, tools: TubeTools, selection: Selection, car: Path, side: str
) -> None:
    session.open(car, as_copy=True)
    points = [p for p in session.state.document.points if p.pair and p.carrier == "chassis"]
    start, end = (Ref(p.id, side) for p in (points[0], points[-1]))  # type: ignore[arg-type]
    count = len(session.state.document.tubes)
    form = drawing(tools)

    selection.choose(start, end)
    assert form.fields["pair"].binding.value() is True
    click(form.do)

    tubes = session.state.document.tubes
    assert len(tubes) == count + 1
    made = tubes[-1]
    assert made.pair
    assert value(session, Ref(made.id, start.side), "start") == start
    assert value(session, Ref(made.id, start.side), "end") == end


@pytest.mark.parametrize("side", ["left", "right"])
def test_a_bend_is_put_into_a_leg_and_its_point_is_in_hand(
    demo: Session, tools: TubeTools, selection: Selection, side: str
) -> None:
    rail = named(demo, "M03_roof_rail")
    ref = Ref(rail.id, side)  # type: ignore[arg-type]
    selection.choose(ref)
    assert tools.one is not None
    before = shape_of(demo.state.document, ref)
    bends = len(before.turns_rad)

    choose(tools.one.legs, tools.one.legs.itemText(0))
    click(tools.one.put_in.do)

    after = shape_of(demo.state.document, ref)
    assert len(after.turns_rad) == bends + 1
    assert after.length == pytest.approx(before.length, abs=1e-6)  # still straight there
    point = thing(demo, selection.refs[0].id)
    assert isinstance(point, Point)
    assert selection.refs[0].side == side
    demo.undo()
    assert thing(demo, rail.id) == rail


def test_a_bend_is_taken_out(demo: Session, tools: TubeTools, selection: Selection) -> None:
    rail = named(demo, "M03_roof_rail")
    selection.choose(Ref(rail.id, "left"))
    assert tools.one is not None

    click(tools.one.take_bend.do)

    after = thing(demo, rail.id)
    assert isinstance(after, Tube)
    assert after.bends == ()


@pytest.mark.usefixtures("joints")
def test_a_tube_is_parted_where_a_joint_follows_it_and_joined_again(
    session: Session, tools: TubeTools, selection: Selection
) -> None:
    a, b = (Ref(named(session, name).id) for name in "AB")
    session.apply("t", lambda d: draw_tube(d, "rail", Ref("section2"), a, b)[0])
    rail = Ref(named(session, "rail").id)
    session.apply("j", lambda d: point_on_tube(d, rail, 400.0, "mid")[0])
    selection.choose(rail)
    assert tools.one is not None

    click(tools.one.part.do)

    _, new = session.state.document.tubes
    halves = [shape_of(session.state.document, ref).length for ref in (rail, Ref(new.id))]
    assert halves == pytest.approx([400.0, 600.0])
    click(tools.one.join.do)
    (joined,) = session.state.document.tubes
    assert (joined.start, joined.end) == (a, b)


def test_a_pair_of_joints_cannot_part_a_single_tube_and_that_is_told_at_the_place(
    demo: Session, tools: TubeTools, selection: Selection
) -> None:
    hoop = Ref(named(demo, "M01_main_hoop").id)
    before = demo.state
    selection.choose(hoop)
    assert tools.one is not None

    click(tools.one.part.do)

    assert demo.state is before
    assert "D_mid" in tools.one.sentence.text


def test_the_state_of_a_tube_is_said_and_a_welded_one_refuses_a_bend_in_words(
    demo: Session, tools: TubeTools, selection: Selection
) -> None:
    rail = named(demo, "M03_roof_rail")
    selection.choose(Ref(rail.id, "left"))
    assert tools.one is not None

    click(tools.one.states.tabs["welded"])
    before = demo.state
    click(tools.one.put_in.do)

    assert value(demo, Ref(rail.id, "left"), "state") == "welded"
    assert demo.state is before
    assert "welded" in tools.one.sentence.text


def test_a_tube_goes_with_what_hangs_on_it_after_that_is_named(
    demo: Session, tools: TubeTools, selection: Selection
) -> None:
    follower = next(p for p in demo.state.document.points if p.along is not None)
    assert follower.along is not None
    selection.choose(follower.along.tube)

    click(tools.out)
    assert tools.card is not None
    click(button(tools, "Take all of it out"))
    QApplication.processEvents()

    assert follower.along.tube.id not in {t.id for t in demo.state.document.tubes}
    assert follower.id not in {p.id for p in demo.state.document.points}
    assert tools.one is None


def test_a_single_tube_becomes_a_pair_or_says_why_not(
    demo: Session, tools: TubeTools, selection: Selection
) -> None:
    hoop = named(demo, "M01_main_hoop")
    selection.choose(Ref(hoop.id))
    assert tools.one is not None

    click(tools.one.pair)

    assert "its mirror image is itself" in tools.one.sentence.text.replace("\n", " ")
    assert thing(demo, hoop.id) == hoop


def test_a_point_is_put_in_at_coordinates_as_a_pair(session: Session, tools: TubeTools) -> None:
    tools.begin("point")
    form = tools.form
    assert form is not None
    fill_field(session, form.fields["at"], Vec3(100.0, -250.0, 300.0))
    choose(form.fields["pair"].box, "yes")  # type: ignore[attr-defined]

    click(form.do)

    (point,) = session.state.document.points
    assert point.at == Vec3(100.0, 250.0, 300.0)
    assert point.pair


@pytest.mark.usefixtures("joints")
def test_a_point_is_put_on_a_tube_and_follows_it(
    session: Session, tools: TubeTools, selection: Selection
) -> None:
    form = drawing(tools)
    selection.choose(Ref(named(session, "A").id), Ref(named(session, "B").id))
    click(form.do)
    (tube,) = session.state.document.tubes
    selection.choose(Ref(tube.id))
    tools.begin("point")
    assert tools.form is not None

    fill(tools.form.fields["distance"].line, "25.4*10")  # type: ignore[attr-defined]
    click(tools.form.do)

    point = session.state.document.points[-1]
    assert point.along is not None
    assert point.along.tube == Ref(tube.id)
    assert point.along.distance == pytest.approx(254.0)
    fill(tools.form.fields["distance"].line, "2000")  # type: ignore[attr-defined]
    click(tools.form.do)
    assert "1000.0 mm long" in tools.form.sentence.text


def test_a_bracket_is_put_in_for_a_mount_on_a_joint(demo: Session, tools: TubeTools) -> None:
    mount, joint = demo.state.document.mounts[0], demo.state.document.points[0]
    tools.begin("bracket")
    form = tools.form
    assert form is not None
    fill_field(demo, form.fields["carries"], Ref(mount.id))
    fill_field(demo, form.fields["on"], Ref(joint.id, "left"))

    click(form.do)

    made = demo.state.document.brackets[-1]
    assert isinstance(made, Bracket)
    assert (made.carries, made.on) == (Ref(mount.id), Ref(joint.id, "left"))
    assert not made.pair


def test_a_mount_comes_with_its_bracket_in_one_step(demo: Session, tools: TubeTools) -> None:
    joint = demo.state.document.points[0]
    steps, brackets = len(demo.history.done), len(demo.state.document.brackets)
    tools.begin("mount")
    form = tools.form
    assert form is not None
    fill_field(demo, form.fields["place"], Vec3(10.0, 20.0, 30.0))
    fill_field(demo, form.fields["joint"], Ref(joint.id, "right"))

    click(form.do)

    made = demo.state.document.mounts[-1]
    assert isinstance(made, Mount)
    assert made.place == Vec3(10.0, 20.0, 30.0)
    bracket = demo.state.document.brackets[-1]
    assert (bracket.carries, bracket.on) == (Ref(made.id), Ref(joint.id, "right"))
    assert len(demo.history.done) == steps + 1
    demo.undo()
    assert len(demo.state.document.brackets) == brackets


def test_every_tool_can_be_asked_for_at_any_time(
    demo: Session, tools: TubeTools, selection: Selection
) -> None:
    specs = tube_action_specs()

    for chosen in ((), (Ref("tube1"),), (Ref("tube1"), Ref("tube2"))):
        selection.choose(*chosen)
        for spec in specs:
            tools.begin(spec.tool)

    assert not demo.history.can_undo
    assert len({spec.id for spec in specs}) == len(specs)
