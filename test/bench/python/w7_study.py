"""Counterpart of W7: crossed gauge studies by numpy, one at a time ("loop") or all at once ("batched"); needs scipy too."""
import sys

import numpy as np
from scipy.special import fdtrc

from generate import checksum, gauge_studies
from timing import report


def study(d):
    """d[..., part, operator, repeat]: four variances and three probabilities"""
    p, o, r = d.shape[-3:]
    grand = d.mean(axis=(-3, -2, -1))
    parts, operators, cells = d.mean(axis=(-2, -1)), d.mean(axis=(-3, -1)), d.mean(axis=-1)
    left = cells - parts[..., :, None] - operators[..., None, :] + grand[..., None, None]
    ms_part = o * r * ((parts - grand[..., None]) ** 2).sum(-1) / (p - 1)
    ms_operator = p * r * ((operators - grand[..., None]) ** 2).sum(-1) / (o - 1)
    ms_both = r * (left**2).sum((-2, -1)) / ((p - 1) * (o - 1))
    ms_repeat = ((d - cells[..., None]) ** 2).sum((-3, -2, -1)) / (p * o * (r - 1))
    return (
        ms_repeat,
        np.maximum((ms_operator - ms_both) / (p * r), 0),
        np.maximum((ms_both - ms_repeat) / r, 0),
        np.maximum((ms_part - ms_both) / (o * r), 0),
        fdtrc(p - 1, (p - 1) * (o - 1), ms_part / ms_both),
        fdtrc(o - 1, (p - 1) * (o - 1), ms_operator / ms_both),
        fdtrc((p - 1) * (o - 1), p * o * (r - 1), ms_both / ms_repeat),
    )


def loop(d):
    return [np.array(column) for column in zip(*[study(one) for one in d])]


def summary(found):
    names = ("repeats", "operators", "interaction", "parts", "p_parts", "p_operators", "p_interaction")
    sums = {name: float(np.sum(column)) for name, column in zip(names, found)}
    grr = found[0] + found[1] + found[2]
    percent = 100 * np.sqrt(grr / (grr + found[3]))
    return {**sums, "mean_percent_grr": float(percent.mean()), "first_percent_grr": float(percent[0])}


def main(variant, run):
    size = int(sys.argv[1])
    studies = gauge_studies(707, size)
    report("W7", variant, size, lambda: run(studies), summary, checksum(studies.ravel()))
