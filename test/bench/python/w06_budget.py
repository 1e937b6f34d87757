"""Counterpart of W6: budgets by the library `uncertainties`, from the ordinary expression."""
import sys

from uncertainties import ufloat

from comparison import DEGREES, comparison, variations
from generate import checksum
from timing import report

size = int(sys.argv[1])
est, std = variations(606, size)
rows = list(zip(est.tolist(), std.tolist()))


def run():
    sum_y = sum_u = sum_dof = 0.0
    last = []
    for estimates, spreads in rows:
        inputs = [ufloat(a, b) for a, b in zip(estimates, spreads)]
        y = comparison(*inputs)
        parts = y.error_components()
        last = [parts[x] for x in inputs]
        u = y.s
        sum_y += y.n
        sum_u += u
        sum_dof += u**4 / sum(p**4 / n for p, n in zip(last, DEGREES))
    return sum_y, sum_u, sum_dof, last


def result(found):
    sum_y, sum_u, sum_dof, last = found
    line = {"sum_y": sum_y, "sum_u": sum_u, "sum_dof": sum_dof}
    line.update({"contribution_%d" % (i + 1): part for i, part in enumerate(last)})
    return line


report("W6", "uncertainties", size, run, result, checksum(est.ravel(), std.ravel()))
