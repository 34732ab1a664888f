"""Scalars and arrays alike: what comes in as one number goes out as one number."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Truth = NDArray[np.bool_]
Given = ArrayLike
"""A number, or anything that numpy takes for an array of numbers; NaN is "not known"."""
BLOCK = 4096
"""So many waters at once stay in the processor's cache."""
LN10 = float(np.log(10.0))


def array(value: Given) -> Array:
    """Return a value as an array of floats."""
    return np.asarray(value, dtype=np.float64)


def plain(value: Array) -> Array | float:
    """Return an array of no dimension as a number, any other as it is."""
    return float(value) if value.ndim == 0 else value


def power10(value: Array) -> Array:
    """Return ten to the power of ``value``; faster than ``10 ** value``."""
    out: Array = np.exp(value * LN10)
    return out


def in_blocks(work: Callable[..., tuple[Array, ...]], *given: Given) -> tuple[Array, ...]:
    """Call ``work`` with flat blocks of the inputs, and give back arrays of their common shape."""
    arrays = np.broadcast_arrays(*(array(one) for one in given))
    shape = arrays[0].shape
    flat = [np.ascontiguousarray(one).reshape(-1) for one in arrays]
    if flat[0].size <= BLOCK:
        return tuple(one.reshape(shape) for one in work(*flat))
    starts = range(0, flat[0].size, BLOCK)
    parts = [work(*(one[start : start + BLOCK] for one in flat)) for start in starts]
    return tuple(np.concatenate(column).reshape(shape) for column in zip(*parts, strict=True))
