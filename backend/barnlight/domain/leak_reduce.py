"""A photo brought down to the working size of the leak finder: each pixel the mean of the area it covers."""

from __future__ import annotations

import numpy as np


def reduced_size(width: int, height: int, long_edge: int) -> tuple[int, int]:
    """(width, height) of a picture brought down to at most `long_edge` px, never up, at least 1 px each."""
    longest = max(width, height)
    if longest <= long_edge:
        return width, height
    return max(1, (2 * width * long_edge + longest) // (2 * longest)), max(1, (2 * height * long_edge + longest) // (2 * longest))


def area_reduced(pixels: np.ndarray, size: tuple[int, int]) -> np.ndarray:
    """RGB pixels (uint8, height, width, 3) as the means of the areas that each pixel of the smaller `size` covers."""
    width, height = size
    if (height, width) == pixels.shape[:2]:
        return pixels
    rows = _row_means(pixels, height)
    columns = _row_means(rows.swapaxes(0, 1), width).swapaxes(0, 1)
    return np.floor(columns + 0.5).astype(np.uint8)


def _row_means(values: np.ndarray, count: int) -> np.ndarray:
    """`count` means over the first axis, a row that lies on a border shared by its parts."""
    edges = np.arange(count + 1) * (len(values) / count)
    first = np.minimum(edges.astype(int), len(values) - 1)
    part = (edges - first)[:, None, None]
    out = np.empty((count, *values.shape[1:]), np.float32)
    for index in range(count):
        a, b = first[index], first[index + 1]
        if b > a:
            whole = values[a:b].sum(axis=0, dtype=np.float32)
            out[index] = whole - part[index] * values[a] + part[index + 1] * values[b]
        else:
            out[index] = (part[index + 1] - part[index]) * values[a]
    return out / np.float32(len(values) / count)
