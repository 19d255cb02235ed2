from hypothesis import given
from hypothesis import strategies as st

from core.document.base import Vec3
from core.document.project import Document, Project
from core.document.steel import Point
from core.edits.things import make, rename
from core.history import LONGEST, History, begin, record, redo, settled, undo


def project(x: float) -> Project:
    """A project with one point, a new object every time."""
    point = Point(id="point1", name="K", at=Vec3(x, 0.0, 0.0))
    return Project(drawn=Document(next_number=2, points=(point,)))


def after(*xs: float) -> History:
    """The history of a point that went from 0 to each place in turn."""
    history = begin(project(0.0))
    for x in xs:
        history = record(history, project(x), f"to {x:g}")
    return history


def test_a_history_begins_with_nothing_to_take_back() -> None:
    first = project(0.0)
    history = begin(first)

    assert history.present is first
    assert (history.can_undo, history.can_redo) == (False, False)
    assert undo(history) is history
    assert redo(history) is history


def test_an_edit_taken_back_and_brought_back_gives_the_very_same_projects() -> None:
    history = after(1.0, 2.0)

    back = undo(history)

    assert back.present is history.done[1].project
    assert undo(back).present is history.done[0].project
    assert redo(back).present is history.present
    assert redo(redo(undo(back))).present is history.present
    assert redo(redo(undo(back))) == history


def test_each_step_keeps_its_words() -> None:
    history = undo(after(1.0, 2.0))

    assert [step.words for step in history.done] == ["open", "to 1"]
    assert [step.words for step in history.undone] == ["to 2"]


def test_an_edit_after_an_undo_drops_what_could_be_brought_back() -> None:
    history = record(undo(after(1.0, 2.0)), project(9.0), "to 9")

    assert not history.can_redo
    assert [step.words for step in history.done] == ["open", "to 1", "to 9"]


def test_an_edit_that_changed_nothing_leaves_what_could_be_brought_back() -> None:
    history = undo(after(1.0, 2.0))

    for unchanged in (history.present, project(1.0)):
        assert record(history, unchanged, "nothing") is history
    assert history.can_redo


def test_the_edits_of_one_drag_are_one_step() -> None:
    history = after(1.0)
    for x in (2.0, 3.0, 4.0):
        history = record(history, project(x), "drag", group="drag 1")

    assert len(history.done) == 3
    assert history.present == project(4.0)
    assert undo(history).present == project(1.0)
    assert redo(undo(history)).present is history.present


def test_two_drags_are_two_steps() -> None:
    history = begin(project(0.0))
    for group, x in (("a", 1.0), ("a", 2.0), ("b", 3.0), ("b", 4.0), ("a", 5.0)):
        history = record(history, project(x), group, group=group)

    assert [step.project for step in history.done] == [project(x) for x in (0.0, 2.0, 4.0, 5.0)]


def test_an_edit_without_a_group_never_joins_another() -> None:
    assert len(after(1.0, 2.0, 3.0).done) == 4


def test_a_drag_that_was_taken_back_is_not_gone_on_with() -> None:
    history = record(begin(project(0.0)), project(1.0), "drag", group="a")

    history = record(undo(history), project(2.0), "drag", group="a")

    assert [step.project for step in history.done] == [project(0.0), project(2.0)]


def test_a_drag_after_an_undo_drops_what_could_be_brought_back() -> None:
    history = record(undo(after(1.0)), project(2.0), "drag", group="a")

    assert not history.can_redo


def test_a_settled_drag_is_not_gone_on_with() -> None:
    history = settled(record(begin(project(0.0)), project(1.0), "drag", group="a"))

    history = record(history, project(2.0), "drag", group="a")

    assert [step.project for step in history.done] == [project(x) for x in (0.0, 1.0, 2.0)]


def test_a_drag_there_and_back_leaves_no_step() -> None:
    history = after(1.0)
    for x in (2.0, 1.0):
        history = record(history, project(x), "drag", group="a")

    assert settled(history).done == after(1.0).done
    assert settled(history).present is not None
    assert settled(settled(history)) == settled(history)


def test_settling_what_is_no_drag_keeps_all_steps() -> None:
    history = after(1.0, 2.0)

    assert settled(history) == history
    assert settled(begin(project(0.0))) == begin(project(0.0))


def test_the_oldest_steps_are_forgotten() -> None:
    history = begin(project(0.0))
    for number in range(LONGEST + 5):
        history = record(history, project(float(number + 1)), str(number))

    assert len(history.done) == LONGEST
    assert history.present == project(float(LONGEST + 5))


def test_what_an_edit_left_alone_is_shared_by_all_steps() -> None:
    document, point = make(project(0.0).drawn, Point, "L", at=Vec3(0.0, 1.0, 2.0))
    history = begin(Project(drawn=document))

    renamed = rename(document, point.id, "M")
    history = record(history, Project(drawn=renamed), "rename")

    before, now = (step.project.drawn for step in history.done)
    assert before.points[0] is now.points[0]
    assert before.tubes is now.tubes


ACTS = st.lists(
    st.one_of(
        st.tuples(st.just("edit"), st.integers(0, 3), st.sampled_from([None, "a", "b"])),
        st.tuples(st.sampled_from(["undo", "redo"]), st.just(0), st.none()),
    ),
    max_size=40,
)


@given(ACTS)
def test_a_history_does_what_a_list_with_a_finger_does(
    acts: list[tuple[str, int, str | None]],
) -> None:
    """Outside check: undo as any editor has it, a list of states and a place in it."""
    history = begin(project(0.0))
    states, at, group = [project(0.0)], 0, None
    for act, number, of_group in acts:
        if act == "edit":
            new = project(float(number))
            history = record(history, new, "edit", of_group)
            if new != states[at]:
                joins = of_group is not None and of_group == group and at > 0
                at = at if joins else at + 1
                states = [*states[:at], new]
                group = of_group
        elif act == "undo":
            history, group = undo(history), group if at == 0 else None
            at = max(at - 1, 0)
        else:
            moved = at < len(states) - 1
            history, group = redo(history), None if moved else group
            at = min(at + 1, len(states) - 1)
        assert history.present == states[at]
        assert history.can_undo == (at > 0)
        assert history.can_redo == (at < len(states) - 1)
