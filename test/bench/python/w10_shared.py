"""Bidirectional positioning by numpy, from readings in any order."""
import numpy as np


def evaluate(count, position, down, value):
    cell = down * count + position
    n = np.bincount(cell, minlength=2 * count)
    mean = np.bincount(cell, value, 2 * count) / n
    off = value - mean[cell]
    s = np.sqrt(np.bincount(cell, off * off, 2 * count) / (n - 1))
    return figures(mean[:count], mean[count:], s[:count], s[count:])


def figures(up, down, s_up, s_down):
    reversal = up - down
    r_up, r_down = 4 * s_up, 4 * s_down
    r = np.maximum(np.maximum(2 * s_up + 2 * s_down + np.abs(reversal), r_up), r_down)
    middle = (up + down) / 2
    top_up, low_up, top_down, low_down = up + 2 * s_up, up - 2 * s_up, down + 2 * s_down, down - 2 * s_down
    return {
        "B": np.abs(reversal).max(),
        "B_mean": reversal.mean(),
        "Eu": up.max() - up.min(),
        "Ed": down.max() - down.min(),
        "E": max(up.max(), down.max()) - min(up.min(), down.min()),
        "M": middle.max() - middle.min(),
        "Ru": r_up.max(),
        "Rd": r_down.max(),
        "R": r.max(),
        "Au": top_up.max() - low_up.min(),
        "Ad": top_down.max() - low_down.min(),
        "A": max(top_up.max(), top_down.max()) - min(low_up.min(), low_down.min()),
    }


def plain(found):
    return {name: float(value) for name, value in found.items()}
