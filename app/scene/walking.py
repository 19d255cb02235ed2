"""From handle to handle by keys: always to the nearest that was not walked past yet."""

from collections.abc import Sequence

import numpy as np

from core.scene.records import Handle

Key = tuple[object, str]


def key_of(handle: Handle) -> Key:
    """What a handle is known by, wherever it moves."""
    return handle.ref, handle.path


class Walk:
    """The handles walked past, in order."""

    def __init__(self) -> None:
        """Begin nowhere."""
        self._past: list[Key] = []

    def begin_at(self, handle: Handle) -> None:
        """Begin anew at a handle."""
        self._past = [key_of(handle)]

    def on(self, handles: Sequence[Handle]) -> Handle | None:
        """The next handle; when all were walked past, the nearest again."""
        if not handles:
            return None
        here = self._here(handles)
        if here is None:
            here = max(handles, key=lambda h: (h.at.x, h.at.y, -h.at.z))
        else:
            here = self._nearest(handles, here)
        self._past.append(key_of(here))
        return here

    def back(self, handles: Sequence[Handle]) -> Handle | None:
        """The handle before; the first stays."""
        if len(self._past) > 1:
            self._past.pop()
        return self._here(handles)

    def _here(self, handles: Sequence[Handle]) -> Handle | None:
        last = self._past[-1] if self._past else None
        return next((h for h in handles if key_of(h) == last), None)

    def _nearest(self, handles: Sequence[Handle], here: Handle) -> Handle:
        ahead = [h for h in handles if key_of(h) not in set(self._past)]
        if not ahead:
            self._past = [key_of(here)]
            ahead = [h for h in handles if h is not here] or [here]
        gaps = [float(np.linalg.norm(np.subtract(h.at, here.at))) for h in ahead]
        return ahead[int(np.argmin(gaps))]
