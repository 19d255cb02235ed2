"""Asking a rule of every corner, and of every rigid axle."""

from core.assess.pairs import is_on_rigid_axle, is_rigid
from core.document.base import Ref
from core.document.running_gear import Axle, Corner
from core.engine.cells import Cell, Findings, NotComputedError, Reader
from core.engine.finding import Finding


def corners(read: Reader) -> tuple[Ref, ...]:
    """Every corner.

    Raises:
        NotComputedError: there is none.
    """
    found = read.all(Corner)
    if not found:
        msg = "no corner is entered"
        raise NotComputedError(msg)
    return found


def each_corner(read: Reader, of: Cell[[Ref], Findings]) -> Findings:
    """The findings of every corner."""
    return tuple(finding for ref in corners(read) for finding in read(of, ref))


def each_body(read: Reader, of: Cell[[Ref], Findings], of_axle: Cell[[Ref], Findings]) -> Findings:
    """The findings of every corner with a wheel of its own, and of every rigid axle."""
    alone = [ref for ref in corners(read) if not read(is_on_rigid_axle, ref)]
    beams = [ref for ref in read.all(Axle) if read(is_rigid, ref)]
    return (
        *(finding for ref in alone for finding in read(of, ref)),
        *(finding for ref in beams for finding in read(of_axle, ref)),
    )


def unknown(rule: str, ref: Ref, words: str) -> Findings:
    """That something is not known, and why."""
    return (Finding(rule, "unknown", (ref,), words[0].upper() + words[1:]),)
