"""Counterpart of W10, one large test."""
import sys

from generate import bidirectional, checksum
from timing import report
from w10_shared import evaluate, plain

size = int(sys.argv[1])
count = size // 100
position, down, value = bidirectional(1010, count, 50)
report("W10", "bincount", size, lambda: evaluate(count, position, down, value), plain, checksum(value))
