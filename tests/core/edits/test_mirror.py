import pytest

from core.assess.places import place, tube_shape
from core.document.base import Because, Fact, Own, Ref, Side, Vec3
from core.document.project import Document
from core.document.records import CheckLength, Note
from core.document.rules import check_document
from core.document.sides import on_side
from core.document.steel import Along, Bend, Bracket, Panel, Point, Tube
from core.edits.refusals import EditRefusedError
from core.edits.things import make, mirror, replace_reference, side_of, thing_of
from core.edits.values import set_fact
from core.engine.address import Address
from core.engine.assess import compute
from tests.core.edits.cars import TubeCar


def single_sided(y: float) -> tuple[Document, dict[str, Ref]]:
    """A tube from P to Q on one side, M following it, and things that name them."""
    car = TubeCar()
    document, p = make(car.document, Point, "P", at=Vec3(0.0, y, 400.0))
    document, q = make(document, Point, "Q", at=Vec3(-500.0, y * 1.1, 400.0))
    ends = {"section": car.section, "start": Ref(p.id), "end": Ref(q.id)}
    document, tube = make(document, Tube, "side", **ends)
    document, m = make(document, Point, "M", along=Along(tube=Ref(tube.id), distance=100.0))
    document, note = make(document, Note, "why", text="t", about=(Ref(p.id), Ref(tube.id)))
    refs = {"P": p.id, "Q": q.id, "side": tube.id, "M": m.id, "why": note.id, "C": car.c.id}
    return document, {name: Ref(found) for name, found in refs.items()}


def stands(document: Document, ref: Ref) -> Vec3:
    return compute(document, {}, place, ref)


@pytest.mark.parametrize(("y", "side"), [(250.0, "left"), (-250.0, "right")])
def test_the_piece_that_was_there_stays_and_its_image_comes(y: float, side: Side) -> None:
    document, refs = single_sided(y)

    paired = mirror(document, refs["P"].id)

    here = Ref(refs["P"].id, side)
    assert stands(paired, here) == Vec3(0.0, y, 400.0)
    assert stands(paired, here.mirrored()) == Vec3(0.0, -y, 400.0)
    tube = thing_of(paired, refs["side"].id)
    assert isinstance(tube, Tube)
    assert tube.start == here
    note = thing_of(paired, refs["why"].id)
    assert isinstance(note, Note)
    assert note.about == (here, refs["side"])
    assert check_document(paired) == []


@pytest.mark.parametrize(("y", "side"), [(250.0, "left"), (-250.0, "right")])
def test_a_tube_becomes_a_pair_once_its_joints_are(y: float, side: Side) -> None:
    document, refs = single_sided(y)
    before = compute(document, {}, tube_shape, refs["side"])
    with pytest.raises(EditRefusedError, match="mirror what it refers to first"):
        mirror(document, refs["side"].id)

    for name in ("P", "Q", "side"):
        document = mirror(document, refs[name].id)

    here = Ref(refs["side"].id, side)
    assert compute(document, {}, tube_shape, here).vertices.tolist() == before.vertices.tolist()
    point = thing_of(document, refs["M"].id)
    assert isinstance(point, Point)
    assert point.along == Along(tube=here, distance=100.0), "what follows it follows that side"
    assert check_document(document) == []
    followed = mirror(document, refs["M"].id)
    assert stands(followed, Ref(refs["M"].id, side)) == stands(document, refs["M"])


def test_a_pair_that_hangs_on_a_single_thing_keeps_to_it_on_both_sides() -> None:
    """Two plates carry one point each from P; P's image must not take one of them over."""
    document, refs = single_sided(250.0)
    document, up = make(document, Point, "U", at=Vec3(0.0, 200.0, 450.0), pair=True)
    fields = {"carries": Ref(up.id, "left"), "on": refs["P"]}
    document, plate = make(document, Bracket, "plate", pair=True, **fields)

    paired = mirror(document, refs["P"].id)

    here = Ref(refs["P"].id, "left")
    found = thing_of(paired, plate.id)
    assert isinstance(found, Bracket)
    assert found.on == here
    assert on_side(found, "right").on == here
    assert found.right == (Own(of="on", value=here),)
    assert check_document(paired) == []


def test_reasons_follow_too() -> None:
    document, refs = single_sided(250.0)
    because = (Because(ref=refs["P"], of="at"),)
    known = set_fact(document, Address(refs["C"], "at"), Fact(source="chosen", because=because))

    (fact,) = thing_of(mirror(known, refs["P"].id), refs["C"].id).facts

    assert fact.because == (Because(ref=Ref(refs["P"].id, "left"), of="at"),)


@pytest.mark.parametrize("which", ["c", "cross", "hoop", "die", "g", "tie"])
def test_what_lies_on_its_own_image_is_not_mirrored(which: str) -> None:
    car = TubeCar()

    with pytest.raises(EditRefusedError, match="is itself|no left and right"):
        mirror(car.document, getattr(car, which).id)


def test_a_pair_is_not_mirrored_again() -> None:
    car = TubeCar()

    with pytest.raises(EditRefusedError, match="A is a left/right pair already"):
        mirror(car.document, car.a.id)


def test_a_sheet_and_a_tape_across_the_car_are_their_own_images() -> None:
    car = TubeCar()
    outline = (car.a, car.b, car.b.mirrored(), car.a.mirrored())
    fields = {"thickness": 1.0, "material": Ref("material1")}
    document, sheet = make(car.document, Panel, "floor", outline=outline, **fields)
    document, tape = make(document, CheckLength, "across", start=car.a, end=car.a.mirrored())

    for made in (sheet, tape):
        with pytest.raises(EditRefusedError, match="is itself"):
            mirror(document, made.id)


def test_a_tube_that_bends_unlike_to_either_side_is_mirrored() -> None:
    """It crosses from A on the left to A on the right, but over a joint of one side only."""
    car = TubeCar()
    document, n = make(car.document, Point, "N", at=Vec3(0.0, 150.0, 250.0), pair=True)
    bends = (Bend(point=Ref(n.id, "left")),)
    ends = {"section": car.section, "start": car.a, "end": car.a.mirrored()}
    document, over = make(document, Tube, "over", bends=bends, **ends)

    paired = mirror(document, over.id)

    right = on_side(thing_of(paired, over.id), "right")
    assert isinstance(right, Tube)
    assert right.bends == (Bend(point=Ref(n.id, "right")),)


@pytest.mark.parametrize(("y", "side"), [(5.0, "left"), (-5.0, "right")])
def test_the_side_of_a_thing_is_that_of_its_place(y: float, side: str) -> None:
    assert side_of(Point(id="point1", name="K", at=Vec3(0.0, y, 0.0))) == side


def test_the_side_of_a_thing_without_a_place_is_that_of_what_it_names() -> None:
    start, end = Ref("point1", "right"), Ref("point2", "right")
    tube = Tube(id="tube1", name="T", section=Ref("section1"), start=start, end=end)

    assert side_of(tube) == "right"


def test_a_reference_is_turned_wherever_it_stands() -> None:
    car = TubeCar()

    turned = replace_reference(car.document, car.c, car.d)

    tie = thing_of(turned, car.tie.id)
    assert isinstance(tie, Tube)
    assert tie.end == car.d
    with pytest.raises(EditRefusedError):
        replace_reference(car.document, car.c, car.die)
    with pytest.raises(EditRefusedError, match="ends at the joint it starts from"):
        replace_reference(car.document, car.a.mirrored(), car.a)
