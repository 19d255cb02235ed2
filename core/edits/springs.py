"""Taking an ordered spring into the car."""

from collections.abc import Iterator

import msgspec

from core.document.base import Because, Fact, Ref
from core.document.links import Damper
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.running_gear import Corner, Tyre
from core.document.sides import on_side
from core.edits.branches import free_branch, put
from core.edits.finding_things import thing_of
from core.edits.refusals import EditRefusedError
from core.edits.values import set_fact
from core.engine.address import Address

RATE, FREE, BLOCK = (
    "damper.spring_rate",
    "damper.spring_free_length",
    "damper.spring_block_length",
)


def take_spring(
    document: Document,
    corner: Ref,
    rate: float,
    free_length: float,
    block_length: float | None = None,
    *,
    how: str = "",
    free: bool = False,
) -> Document:
    """The document with another spring on the damper of a corner, and on the other side's.

    What is not told of it is not known any more: no spring keeps the block length of another.

    Args:
        document: where it is.
        corner: one side of a pair, or a single corner.
        rate: N/mm.
        free_length: mm.
        block_length: with its coils closed, mm; None before it is known.
        how: what it was chosen for; kept in the facts of its figures.
        free: whether to set free first what is held of the old one.

    Raises:
        HeldError: a figure of the old spring is held, and `free` was not asked for.
        EditRefusedError: the corner has no damper, or the figures are none of a spring.
    """
    old = _damper(_corner(document, corner))
    paths = (RATE, FREE, BLOCK)
    if free:
        for path in paths:
            document = free_branch(document, Address(corner, path))
    try:
        damper = msgspec.structs.replace(
            old,
            spring_rate=rate,
            spring_free_length=free_length,
            spring_block_length=block_length,
        )
    except ValueError as error:
        raise EditRefusedError(str(error)) from error
    after = put(document, Address(corner, "damper"), damper)
    fact = Fact(source="chosen", how=how, because=tuple(relied_on(document, corner)))
    for path in paths:
        after = set_fact(after, Address(corner, path), fact)
    return after


def relied_on(document: Document, corner: Ref) -> Iterator[Because]:
    """What the choice of a spring for a corner rests on, as far as it is entered."""
    thing = _corner(document, corner)
    given = {
        "unsprung_mass_kg": thing.unsprung_mass_kg,
        "weight_kg": thing.weight_kg,
        "damper.spring_seats": None if thing.damper is None else thing.damper.spring_seats,
    }
    for path, value in given.items():
        if value is not None:
            yield Because(ref=corner, of=path)
    tyre = None if thing.tyre is None else thing_of(document, thing.tyre.id)
    if isinstance(tyre, Tyre) and tyre.vertical_stiffness is not None:
        yield Because(ref=Ref(tyre.id), of="vertical_stiffness")


def _damper(corner: Corner) -> Damper:
    assert corner.damper is not None  # `_corner` refuses one without
    return corner.damper


def _corner(document: Document, corner: Ref) -> Corner:
    thing = on_side(thing_of(document, corner.id), corner.side)
    if not isinstance(thing, Corner) or thing.damper is None:
        msg = f"{Lookup(document).label(corner)} has no damper that a spring could be on"
        raise EditRefusedError(msg)
    return thing
