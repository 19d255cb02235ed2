"""What can be put into a field is told from its type."""

import msgspec
import pytest

from core.document.base import Entity, kind_name
from core.document.project import KINDS
from core.document.running_gear import Corner
from core.document.steel import Point, Tube
from core.workshop.field_shapes import Shape, field_shapes, required_fields, shape_at, shape_of
from core.workshop.kinds import fields_of


@pytest.mark.parametrize("kind", KINDS.values(), ids=kind_name)
def test_every_field_of_every_kind_has_a_shape(kind: type[Entity]) -> None:
    assert tuple(field_shapes(kind)) == fields_of(kind)


@pytest.mark.parametrize("kind", KINDS.values(), ids=kind_name)
def test_required_fields_are_those_without_a_value_of_their_own(kind: type[Entity]) -> None:
    needed = {info.name for info in msgspec.structs.fields(kind) if info.required}

    assert set(required_fields(kind)) == needed - {"id", "name"}


def test_shapes_of_the_usual_fields() -> None:
    assert shape_at(Point, "at") == Shape("place", optional=True)
    assert shape_at(Point, "at.y") == Shape("number")
    assert shape_at(Tube, "section") == Shape("reference", kinds=("section",))
    assert shape_at(Tube, "removable") == Shape("flag")
    assert "welded" in shape_at(Tube, "state").choices
    assert shape_at(Corner, "links").item == shape_of(shape_at(Corner, "links").item.part)  # type: ignore[union-attr]
    assert shape_at(Corner, "links.0.inner").kinds == ("point", "rack")
    assert shape_at(Corner, "droop") == Shape("number", optional=True)


def test_a_type_that_no_field_has_is_refused() -> None:
    with pytest.raises(TypeError, match="no field takes"):
        shape_of(bytes)
