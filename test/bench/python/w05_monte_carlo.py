"""Counterpart of W5: a million trials by numpy's own generator, the tails partitioned and sorted."""
import sys

import numpy as np

from comparison import ESTIMATES as E, WIDTHS as W, comparison, shortest
from timing import report

size = int(sys.argv[1])


def run():
    rng = np.random.default_rng(505)
    ls = E[0] + W[0] * rng.standard_t(18, size)
    d = rng.normal(E[1], W[1], size)
    c = rng.uniform(-W[2], W[2], size)
    t = rng.normal(E[3], W[3], size)
    D = W[4] * np.sin(2 * np.pi * rng.random(size))
    al = rng.uniform(E[5] - W[5], E[5] + W[5], size)
    da = rng.triangular(-W[6], 0.0, W[6], size)
    th = rng.uniform(-W[7], W[7], size)
    y = comparison(ls, d, c, t, D, al, da, th)
    return (float(y.mean()), float(y.std(ddof=1)), *shortest(y))


def result(found):
    mean, u, low, high = found
    return {"mean": mean, "u": u, "width": high - low, "low": low, "high": high}


report("W5", "numpy-generator-tails", size, run, result, "own generator")
