"""Counterpart of W9: Huber's estimate by reweighting in cache-sized blocks, one matrix product for both sides."""
import sys

import numpy as np

from generate import checksum, quadratic_points
from timing import report

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
report("W9", "numpy-irls-blocked", size, lambda: huber(*points), lambda found: found, checksum(*points))
