"""Counterpart of W10, tests of ordinary size one a call."""
import sys

from generate import bidirectional, checksum
from timing import report
from w10_shared import evaluate, plain

size = int(sys.argv[1])
tests = [bidirectional(2000 + i, 11, 5) for i in range(size)]


def run():
    total = None
    for position, down, value in tests:
        found = evaluate(11, position, down, value)
        total = found if total is None else {name: total[name] + found[name] for name in found}
    return total


report("W10", "small-110x1000", size, run, plain, checksum(*[value for _, _, value in tests]))
