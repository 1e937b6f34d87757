"""Counterpart of W1: least-squares plane by centred normal equations, summed in blocks that stay in the cache."""
import json
import sys
import time

import numpy as np

from generate import checksum, plane_points

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
begun = time.perf_counter()
plane(*points)
first = time.perf_counter() - begun
times = []
end = time.perf_counter() + 2
while len(times) < 5 or (len(times) < 40 and time.perf_counter() < end):
    begun = time.perf_counter()
    result = plane(*points)
    times.append(time.perf_counter() - begun)
print(
    json.dumps(
        {
            "id": "W1",
            "variant": "normal-equations-blocked",
            "n": size,
            "min_s": min(times),
            "median_s": sorted(times)[len(times) // 2],
            "first_s": first,
            "reps": len(times),
            "result": result,
            "checksum": checksum(*points),
        }
    )
)
