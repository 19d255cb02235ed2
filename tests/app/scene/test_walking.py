"""Walking from handle to handle: to the nearest, each once, and back the same way."""

from app.scene.walking import Walk
from core.document.base import Ref, Vec3
from core.scene.records import Handle


def at(name: str, x: float) -> Handle:
    return Handle(Ref(name), "at", "joint", Vec3(x, 0.0, 0.0))


HANDLES = [at("a", 0.0), at("b", -10.0), at("c", -13.0), at("d", -40.0)]


def names(walk: Walk, steps: int) -> list[str]:
    found = [walk.on(HANDLES) for _ in range(steps)]
    return [handle.ref.id for handle in found if handle is not None]


def test_it_begins_at_the_nose_and_goes_to_the_nearest_each_time() -> None:
    assert names(Walk(), 4) == ["a", "b", "c", "d"]


def test_from_a_chosen_handle_it_goes_to_its_nearest() -> None:
    walk = Walk()
    walk.begin_at(HANDLES[2])

    assert names(walk, 3) == ["b", "a", "d"]


def test_it_goes_back_the_way_it_came() -> None:
    walk = Walk()
    names(walk, 3)

    back = [walk.back(HANDLES), walk.back(HANDLES), walk.back(HANDLES)]

    assert [handle.ref.id for handle in back if handle is not None] == ["b", "a", "a"]


def test_when_all_were_walked_past_it_goes_on_from_there() -> None:
    assert names(Walk(), 5)[-1] == "c"


def test_a_handle_that_moved_is_still_the_same_handle() -> None:
    walk = Walk()
    names(walk, 2)
    moved = [HANDLES[0], at("b", -39.0), HANDLES[2], HANDLES[3]]

    found = walk.on(moved)

    assert found is not None
    assert found.ref.id == "d"


def test_without_handles_there_is_nowhere_to_go() -> None:
    assert Walk().on([]) is None
