"""Counterpart of W5 with fixed draws."""
import sys

import numpy as np

from comparison import ESTIMATES as E, WIDTHS as W, comparison, shortest
from generate import checksum, uniforms
from timing import report

size = int(sys.argv[1])
u = [uniforms(505, j * size, size) for j in range(19)]
TURN = 2 * np.pi


def run():
    radius = np.sqrt(-2 * np.log(1 - u[0]))
    first, second = radius * np.cos(TURN * u[1]), radius * np.sin(TURN * u[1])
    third = np.sqrt(-2 * np.log(1 - u[2])) * np.cos(TURN * u[3])
    product = 1 - u[4]
    for j in range(5, 13):
        product *= 1 - u[j]
    ls = E[0] + W[0] * (first / np.sqrt(-2 * np.log(product) / 18))
    d = E[1] + W[1] * second
    c = W[2] * (2 * u[13] - 1)
    t = E[3] + W[3] * third
    D = W[4] * np.sin(TURN * u[14])
    al = E[5] + W[5] * (2 * u[15] - 1)
    da = W[6] * (u[16] + u[17] - 1)
    th = W[7] * (2 * u[18] - 1)
    y = comparison(ls, d, c, t, D, al, da, th)
    return (float(y.mean()), float(y.std(ddof=1)), *shortest(y))


def result(found):
    mean, spread, low, high = found
    return {"mean": mean, "u": spread, "width": high - low, "low": low, "high": high}


report("W5", "fixed-draws", size, run, result, checksum(*u))
