"""The array type of the geometry and two helpers every module of it needs."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]


def read_only(values: ArrayLike) -> Array:
    """Return a copy of the values as a float array that cannot be written to.

    Args:
        values: numbers of any shape and unit.

    Returns:
        Array of the same shape, its own memory, not writeable.
    """
    array = np.array(values, dtype=np.float64)
    array.setflags(write=False)
    return array


def unit(vectors: Array) -> Array:
    """Return the vectors scaled to length 1.

    Args:
        vectors: (3,) or (n, 3), any unit, any frame.

    Returns:
        Array of the same shape.

    Raises:
        ValueError: if a vector has no length or is not a number, and so no direction.
    """
    lengths = np.sqrt(np.sum(vectors * vectors, axis=-1, keepdims=True))
    if not np.all(np.isfinite(lengths)) or np.any(lengths == 0.0):
        message = "A vector without length has no direction."
        raise ValueError(message)
    return np.asarray(vectors / lengths, dtype=np.float64)
