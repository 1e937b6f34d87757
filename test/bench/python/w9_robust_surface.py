"""Counterpart of W9: Huber's estimate by reweighting in cache-sized blocks, one matrix product for both sides."""
import json
import sys
import time

import numpy as np

from generate import checksum, quadratic_points

BLOCK = 8192


def huber(x, y, z):
    count = len(z)
    half = count // 2
    table = np.vstack((np.ones_like(x), x, y, x * x, x * y, y * y, z))
    parts = [slice(start, min(start + BLOCK, count)) for start in range(0, count, BLOCK)]
    blocks = [np.ascontiguousarray(table[:, part]) for part in parts]
    sums = sum(block @ block.T for block in blocks)
    beta = np.linalg.solve(sums[:6, :6], sums[:6, 6])
    room, sizes = np.empty((7, BLOCK)), np.empty(count)
    for _ in range(100):
        off = np.append(-beta, 1.0)
        for part, block in zip(parts, blocks):
            np.abs(off @ block, out=sizes[part])
        ordered = np.partition(sizes, half)
        middle = ordered[half] if count % 2 else 0.5 * (ordered[half] + ordered[:half].max())
        scale = middle / 0.6744897501960817
        limit = 1.345 * scale
        sums = np.zeros((7, 7))
        for part, block in zip(parts, blocks):
            weighted = room[:, : block.shape[1]]
            np.multiply(block, limit / np.maximum(sizes[part], limit), out=weighted)
            sums += weighted @ block.T
        better = np.linalg.solve(sums[:6, :6], sums[:6, 6])
        change = np.abs(better - beta).max() / np.abs(better).max()
        beta = better
        if change < 1e-10:
            break
    return {**{f"b{k}": float(value) for k, value in enumerate(beta)}, "scale": float(scale)}


size = int(sys.argv[1])
points = quadratic_points(909, size)
begun = time.perf_counter()
huber(*points)
first = time.perf_counter() - begun
times = []
end = time.perf_counter() + 2
while len(times) < 5 or (len(times) < 40 and time.perf_counter() < end):
    begun = time.perf_counter()
    result = huber(*points)
    times.append(time.perf_counter() - begun)
print(
    json.dumps(
        {
            "id": "W9",
            "variant": "numpy-irls-blocked",
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
