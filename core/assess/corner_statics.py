"""What holds a corner as bodies and forces, from the document to the room of loads.

A link on two balls only pulls or pushes. An arm that carries a damper, a rod or a torsion bar is a
body of its own; so is an H-arm, and a rocker.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from core.assess.corner_pieces import Piece, Posed, links_and_holders
from core.assess.dampers import rocker_at_design
from core.assess.linkages import arms
from core.assess.pairs import is_on_rigid_axle
from core.assess.spring_parts import damper_of, pose_at_design
from core.assess.spring_pieces import spring
from core.document.base import Ref
from core.document.running_gear import Axle, Corner
from core.engine.cells import NotComputedError, Reader, When, cell
from core.loads.statics import Assembly
from core.suspension.poses import Poses


@dataclass(frozen=True, eq=False)
class CornerStatics:
    """A corner as bodies that hold one another, at a pose.

    Attributes:
        poses: of the upright, shape ().
        assembly: its bodies and what acts between them; the upright is the first.
        pieces: its parts.
        bodies: besides the upright, by name.
    """

    poses: Poses
    assembly: Assembly
    pieces: tuple[Piece, ...]
    bodies: Mapping[str, int]

    @property
    def is_shared(self) -> bool:
        """Whether anything rests on an assumption of what two points share."""
        return bool(self.assembly.ties)


@cell(When.RELEASE)
def corner_statics(read: Reader, corner: Ref) -> CornerStatics:
    """A corner as bodies that hold one another, as drawn."""
    return statics_at(read, corner, read(pose_at_design, corner))


def statics_at(read: Reader, corner: Ref, poses: Poses) -> CornerStatics:
    """A corner as bodies that hold one another, at a pose.

    Raises:
        NotComputedError: it is on a rigid axle, nothing springs it, or its rocker has no place.
    """
    if read(is_on_rigid_axle, corner):
        msg = f"{read.label(corner)} is on a rigid axle, whose links are not told here"
        raise NotComputedError(msg)
    own = {str(each.name): each for each in read(arms, corner)}
    thing, bodies = read.thing(Corner, corner), _bodies(read, corner)
    at = Posed(read, corner, thing, poses, own, bodies)
    pieces = (*links_and_holders(at), *spring(at))
    actions = tuple(action for piece in pieces for action in piece.actions)
    ties = tuple(tie for piece in pieces for tie in piece.ties)
    return CornerStatics(poses, Assembly(1 + len(bodies), actions, ties), pieces, bodies)


def _bodies(read: Reader, corner: Ref) -> dict[str, int]:
    """Bodies besides the upright by name: arms that carry something, H-arms, the rocker."""
    loaded = _loaded(read, corner)
    names = [str(each.name) for each in read(arms, corner) if each.name in loaded or not each.links]
    names += ["rocker"] if "rocker" in loaded else []
    missing = loaded - {"upright", *names}
    if missing:
        msg = f"{read.label(corner)} has no {min(missing)}"
        raise NotComputedError(msg)
    return {name: 1 + at for at, name in enumerate(names)}


def _loaded(read: Reader, corner: Ref) -> set[str]:
    """What carries more than its ball: of what springs the wheel, and of the anti-roll bar."""
    bar = read.thing(Axle, read.thing(Corner, corner).axle).bar
    return _sprung(read, corner) | (set() if bar is None else {bar.link_on})


def _sprung(read: Reader, corner: Ref) -> set[str]:
    """What carries the eye of the damper, the torsion bar, or the rod of the rocker between."""
    thing = read.thing(Corner, corner)
    on = damper_of(read, corner).lower_on if thing.torsion_bar is None else thing.torsion_bar.on
    if on != "rocker":
        return {on}
    read(rocker_at_design, corner)  # says if there is none
    assert thing.rocker is not None
    return {on, thing.rocker.rod_on}
