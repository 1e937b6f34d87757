"""Counterpart of W7, one study a call."""
from w7_study import loop, main

main("numpy-loop", loop)
