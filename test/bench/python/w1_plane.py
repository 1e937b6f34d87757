"""Counterpart of W1: least-squares plane by centred normal equations, summed in blocks that stay in the cache."""
import sys

import numpy as np

from generate import checksum, plane_points
from timing import report

BLOCK = 32768


def plane(x, y, z):
    count = len(x)
    origin = x[0], y[0], z[0]
    table = np.ones((4, min(BLOCK, count)))
    moments = np.zeros((4, 4))
    for start in range(0, count, BLOCK):
        part = table[:, : min(BLOCK, count - start)]
        for row, (column, zero) in enumerate(zip((x, y, z), origin)):
            np.subtract(column[start : start + BLOCK], zero, out=part[row])
        moments += part @ part.T
    mean = moments[:3, 3] / count
    spread = moments[:3, :3] - count * np.outer(mean, mean)
    a, b = np.linalg.solve(spread[:2, :2], spread[:2, 2])
    c = origin[2] + mean[2] - a * (origin[0] + mean[0]) - b * (origin[1] + mean[1])
    low, high = np.inf, -np.inf
    rest, other = np.empty(BLOCK), np.empty(BLOCK)
    for start in range(0, count, BLOCK):
        size = min(BLOCK, count - start)
        r, o = rest[:size], other[:size]
        np.multiply(x[start : start + size], a, out=r)
        np.subtract(z[start : start + size], r, out=r)
        np.multiply(y[start : start + size], b, out=o)
        r -= o
        low, high = min(low, r.min()), max(high, r.max())
    return {"a": float(a), "b": float(b), "c": float(c), "pv": float(high - low)}


size = int(sys.argv[1])
points = plane_points(101, size)
report("W1", "normal-equations-blocked", size, lambda: plane(*points), lambda found: found, checksum(*points))
