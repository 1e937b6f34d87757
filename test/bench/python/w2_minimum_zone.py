"""Counterpart of W2: linear programmes on a working set that grows by the worst points of blocked sweeps over all."""
import sys

import numpy as np
from scipy.optimize import linprog

from generate import checksum, plane_points
from timing import report


def programme(u, v, z):
    """slopes, offset and half-width over scaled places; the four active rows are solved once more, exactly"""
    one = np.ones_like(u)
    rows = np.concatenate((np.column_stack((-u, -v, -one, -one)), np.column_stack((u, v, one, -one))))
    limits = np.concatenate((-z, z))
    bounds = [(None, None)] * 3 + [(0, None)]
    found = linprog([0, 0, 0, 1.0], A_ub=rows, b_ub=limits, bounds=bounds, method="highs-ds")
    prices = found.ineqlin.marginals
    active = np.argsort(prices)[:4]
    return np.linalg.solve(rows[active], limits[active]) if (prices[active] < 0).all() else found.x


def minimum_zone(x, y, z):
    count = len(z)
    block = min(32768, max(64, count // 40))
    work = np.unique(np.linspace(0, count - 1, min(count, 400)).astype(np.int64))
    first, second = np.empty(block), np.empty(block)
    while True:
        px, py, pz = x[work], y[work], z[work]
        a, b, c, half = programme((px - 1000) / 1000, (py - 500) / 500, pz)
        a, b, c = a / 1000, b / 500, c - a - b
        limit, outside, low, high = half * (1 + 1e-12), [], np.inf, -np.inf
        for start in range(0, count, block):
            size = min(block, count - start)
            r, t = first[:size], second[:size]
            np.multiply(x[start : start + size], a, out=t)
            np.subtract(z[start : start + size], t, out=r)
            np.multiply(y[start : start + size], b, out=t)
            r -= t
            r -= c
            top, bottom = int(r.argmax()), int(r.argmin())
            low, high = min(low, r[bottom]), max(high, r[top])
            if r[top] > limit:
                outside.append((r[top], start + top))
            if r[bottom] < -limit:
                outside.append((-r[bottom], start + bottom))
        worst = [index for _, index in sorted(outside, reverse=True)[:64]]
        worst = np.setdiff1d(np.array(worst, dtype=np.int64), work)
        if not len(worst):
            return {"zone": float(2 * half), "range": float(high - low), "a": float(a), "b": float(b)}
        near = np.abs(pz - (px * a + py * b + c)) > 0.5 * half
        work = np.concatenate((work[near], worst))


size = int(sys.argv[1])
points = plane_points(202, size)
report("W2", "constraint-generation", size, lambda: minimum_zone(*points), lambda found: found, checksum(*points))
