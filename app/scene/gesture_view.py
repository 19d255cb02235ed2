"""What mouse and keys need of the view that they work on."""

from typing import Protocol

from app.scene.cameras import CameraKind, Pose
from app.scene.hand import Hand
from app.scene.pointing import Pointing
from app.scene.projection import Projection
from core.scene.records import Handle


class GestureView(Protocol):
    """What gestures need of the view they are made on."""

    kind: CameraKind
    pose: Pose
    hand: Hand
    pointing: Pointing
    pointer: tuple[float, float]

    def projection(self) -> Projection:
        """How the view shows the car now."""
        ...

    def take_pose(self, pose: Pose) -> None:
        """Look from there at once."""
        ...

    def walk(self, *, back: bool) -> None:
        """Make the next handle, or the one before, the current one."""
        ...

    def want_typing(self, handle: Handle) -> None:
        """Ask for its figures to be typed."""
        ...

    def settle_nudges(self) -> None:
        """Close the undo step of the nudges so far."""
        ...

    def dismiss(self) -> bool:
        """Close what lies over the view; whether there was anything."""
        ...

    def go_home(self, *, eased: bool = True) -> None:
        """Look from where the view looked at first."""
        ...
