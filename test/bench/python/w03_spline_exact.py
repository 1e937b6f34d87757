"""Counterpart of W3 without smoothing: dense LU, heights in blocks that stay in the cache."""
import sys

import numpy as np
from scipy.linalg import lapack
from scipy.spatial.distance import cdist

from generate import checksum, scattered_points, unit_grid
from timing import report

size = int(sys.argv[1])
x, y, z = scattered_points(303, size, 0.05)
p, grid = np.column_stack((x, y)), unit_grid(200)


def run():
    with np.errstate(divide="ignore", invalid="ignore"):
        d2 = cdist(p, p, "sqeuclidean")
        k = 0.5 * d2 * np.log(d2)
    k[d2 == 0] = 0
    a = np.zeros((size + 3, size + 3), order="F")
    a[:size, :size], a[:size, size], a[:size, size + 1 :] = k, 1, p
    a[size:, :size] = a[:size, size:].T
    _, _, w, _ = lapack.dgesv(a, np.append(z, np.zeros(3)), overwrite_a=1, overwrite_b=1)
    out = w[size] + grid @ w[size + 1 :]
    step = max(1, 200000 // size)
    for s in range(0, len(grid), step):
        d2 = cdist(grid[s : s + step], p, "sqeuclidean")
        with np.errstate(divide="ignore", invalid="ignore"):
            k = np.log(d2)
            k *= d2
        np.nan_to_num(k, copy=False)
        out[s : s + step] += k @ (0.5 * w[:size])
    return out


def result(o):
    return {"mean": o.mean(), "min": o.min(), "max": o.max(), "g_100_100": o[20100], "g_17_150": o[30017]}


report("W3", "hand-s0", size, run, result, checksum(x, y, z))
