"""Rotations of many uprights turned by many small turns."""

import numpy as np

from core.geometry.types import Array

LEVER = 400.0
"""Length, mm, by which turns are weighed against shifts: about that of a wheel. Own choice."""

_SKEW = np.zeros((3, 9))
_SKEW[0, 7], _SKEW[0, 5] = 1.0, -1.0
_SKEW[1, 2], _SKEW[1, 6] = 1.0, -1.0
_SKEW[2, 3], _SKEW[2, 1] = 1.0, -1.0
_SKEW.setflags(write=False)


def turned(rotation: Array, step: Array) -> Array:
    """Return rotations (positions, 3, 3) turned on by steps (positions, 3).

    A step is LEVER times the turn as a vector, car frame. Source: Rodrigues' formula.
    """
    turn = step * (1.0 / LEVER)
    angle = np.sqrt(np.einsum("ni,ni->n", turn, turn) + 1e-300)[:, None, None]
    skewed = (turn @ _SKEW).reshape(-1, 3, 3)
    once = skewed @ rotation
    half = np.sin(0.5 * angle) / angle
    return np.asarray(rotation + np.sin(angle) / angle * once + 2.0 * half**2 * (skewed @ once))
