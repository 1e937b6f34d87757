"""Counterpart of W7, all studies at once."""
from w7_study import main, study

main("numpy-batched", study)
