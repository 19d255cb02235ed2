"""Asking the assessment for one more value, without working out again what it knows."""

from typing import Any, TypeVar, cast

from app.session import State
from core.engine.assess import assess
from core.engine.cells import Cell, CellKey, P, Reader

T = TypeVar("T")


def ask(state: State, cell: Cell[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
    """The value of a cell for the car as it is shown; all that it reads is taken as known.

    Raises:
        NotComputedError: it could not be computed, or is slower than has been caught up with.
    """
    assert not kwargs
    last = state.assessment
    key = CellKey(cast("Cell[..., Any]", cell), args)
    if key in last.entries and key not in last.behind:
        return last.value(cell, *args, **kwargs)

    def run(read: Reader) -> T:
        return read(cell, *args, **kwargs)

    asked = Cell(f"asked {cell.name}", cell.when, run)
    table = assess(last.document, last.meshes, last, (), cell.when, (asked,))
    return table.value(asked)
