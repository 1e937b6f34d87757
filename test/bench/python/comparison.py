"""The model of W5 and W6, and the variations of W6, in numpy and plain Python."""
import math

import numpy as np

from generate import uniforms

ESTIMATES = [50.000623, 215e-6, 0.0, -0.1, 0.0, 11.5e-6, 0.0, 0.0]
WIDTHS = [25e-6, 9.7e-6, 10e-6, 0.2, 0.5, 2e-6, 1e-6, 0.05]
DEGREES = [18, 24, 50, 8, 12, 30, 20, 10]
DIVISORS = [1, 1, 3, 1, 2, 3, 6, 3]


def comparison(ls, d, c, t, D, al, da, th):
    return ((ls - 50) - ls * (da * (t + D) + al * th) + d + c) * 1000


def variations(seed, count):
    u = uniforms(seed, 0, 16 * count).reshape(count, 16)
    est = np.array(ESTIMATES) + np.array(WIDTHS) * (u[:, :8] - 0.5)
    scale = np.array([a / math.sqrt(v) for a, v in zip(WIDTHS, DIVISORS)])
    return est, scale * (0.75 + 0.5 * u[:, 8:])


def shortest(y):
    """shortest interval of 95 %: only the two tails are sorted"""
    count = len(y)
    q = int(0.95 * count + 0.5)
    y.partition((count - q - 1, q))
    low, high = np.sort(y[: count - q]), np.sort(y[q:])
    r = int((high - low).argmin())
    return float(low[r]), float(high[r])
