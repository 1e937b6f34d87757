"""Counterpart of W3 with smoothing: scipy's interpolator."""
import sys

import numpy as np
from scipy.interpolate import RBFInterpolator

from generate import checksum, scattered_points, unit_grid
from timing import report

size = int(sys.argv[1])
x, y, z = scattered_points(303, size, 0.05)
p, grid = np.column_stack((x, y)), unit_grid(200)


def run():
    return RBFInterpolator(p, z, kernel="thin_plate_spline", degree=1, smoothing=1e-3)(grid)


def result(o):
    return {"mean": o.mean(), "min": o.min(), "max": o.max(), "g_100_100": o[20100], "g_17_150": o[30017]}


report("W3", "rbf-s1e-3", size, run, result, checksum(x, y, z))
