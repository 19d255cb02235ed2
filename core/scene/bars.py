"""Anti-roll bars to draw: the bar in its bearings, its blades and its drop links."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from core.assess.bars import bar_at_design, bar_of, on_other_side
from core.assess.pairs import pair_of
from core.assess.places import array, place
from core.document.base import Ref
from core.document.running_gear import Axle
from core.engine.cells import NotComputedError, Reader, When, cell
from core.geometry.types import Array
from core.scene.gear import LINK
from core.scene.records import RodRecord
from core.suspension.bar import AntiRollBar
from core.suspension.carried import carried_place
from core.suspension.poses import Poses

BAR, DROP_LINK = 9.0, 7.0
"""Radii drawn where a bar's own size is not given, mm; for drawing only."""


@dataclass(frozen=True, eq=False)
class Ends:
    """Where one end of a bar is, (3,) mm each."""

    bearing: Array
    on_blade: Array
    lower: Array


@cell(When.LIVE)
def bar_drawn(read: Reader, axle: Ref) -> tuple[RodRecord, ...]:
    """The anti-roll bar of an axle as drawn; nothing where there is none."""
    if read.thing(Axle, axle).bar is None:
        return ()
    return _rods(read, axle, drawn_ends(read, axle))


def drawn_ends(read: Reader, axle: Ref) -> tuple[Ends, Ends]:
    """Both ends of an axle's bar as drawn, left before right."""
    bar = bar_of(read, axle)
    refs = bar.bearing, bar.arm_end, bar.link_lower
    left = Ends(*(array(read(place, ref)) for ref in refs))
    return left, Ends(*(on_other_side(read, ref) for ref in refs))


def _rods(read: Reader, axle: Ref, ends: tuple[Ends, Ends]) -> tuple[RodRecord, ...]:
    outside = bar_of(read, axle).outside
    radius = BAR if outside is None else outside / 2.0
    left, right = ends
    blades = (
        record
        for end in ends
        for record in (
            RodRecord(axle, "blade", np.array([end.bearing, end.on_blade]), LINK, "link"),
            RodRecord(axle, "drop link", np.array([end.on_blade, end.lower]), DROP_LINK, "link"),
        )
    )
    bar = RodRecord(axle, "anti-roll bar", np.array([left.bearing, right.bearing]), radius, "link")
    return (bar, *blades)


def posed_bar(read: Reader, axle: Ref, posed: Mapping[Ref, Poses]) -> tuple[RodRecord, ...] | None:
    """The bar of an axle where its wheels stand.

    Args:
        read: what the document says.
        axle: whose.
        posed: poses () of the corners of which it is known where they stand.

    Returns:
        Its rods; None where nothing moves, or it is not known where to: it stays as drawn.
    """
    if read.thing(Axle, axle).bar is None:
        return None
    try:
        corners, bar = read(pair_of, axle), read(bar_at_design, axle)
        drawn = drawn_ends(read, axle)
        left, right = (
            _moved(bar, end, posed[ref]) for ref, end in zip(corners, drawn, strict=True)
        )
    except (NotComputedError, KeyError, ValueError):
        return None
    return _rods(read, axle, (left, right))


def _moved(bar: AntiRollBar, drawn: Ends, poses: Poses) -> Ends:
    """One end where its blade and drop link stand.

    Raises:
        ValueError: the blade does not reach there, or is drawn at dead centre.
    """
    link = bar.left if poses.linkage.side == "left" else bar.right
    on_blade = bar.blade(poses).at(link.on_blade)
    if not np.isfinite(on_blade).all():
        raise ValueError("the drop link does not reach")
    return Ends(drawn.bearing, on_blade, carried_place(poses, link.outer, link.arm))
