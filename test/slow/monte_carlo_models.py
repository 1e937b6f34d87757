"""Random models by numpy's own generator: JSON in, JSON out."""
import json
import sys

import numpy as np

TRIALS = 50_000


def value(tree, x):
    if isinstance(tree, (int, float)):
        return tree
    name, parts = tree["name"], tree["parts"]
    if name == "x":
        return x[parts[0]]
    a = [value(part, x) for part in parts]
    if name == "sum":
        return a[0] + a[1]
    if name == "difference":
        return a[0] - a[1]
    if name == "product":
        return a[0] * a[1]
    if name == "quotient":
        return a[0] / (2 + a[1] * a[1])
    return np.sin(a[0])


def draw(rng, law, location, u, degrees):
    if law == "normal":
        return rng.normal(location, u, TRIALS)
    if law == "rectangular":
        return location + u * 3**0.5 * rng.uniform(-1, 1, TRIALS)
    if law == "triangular":
        return location + u * 6**0.5 * rng.triangular(-1, 0, 1, TRIALS)
    if law == "arcsine":
        return location + u * 2**0.5 * np.sin(2 * np.pi * rng.random(TRIALS))
    return location + u * rng.standard_t(degrees, TRIALS)


answers = []
for k, model in enumerate(json.load(sys.stdin)):
    rng = np.random.default_rng(k)
    x = [draw(rng, i["law"], i["estimate"], i["u"], i["degrees"]) for i in model["inputs"]]
    y = value(model["tree"], x)
    mean, u = y.mean(), y.std(ddof=1)
    low, high, a, b, c, d = np.quantile(y, [0.025, 0.975, 0.018, 0.032, 0.968, 0.982])
    # what each figure scatters by from one simulation to the next
    end = (0.025 * 0.975 / TRIALS) ** 0.5 / 0.014
    kurtosis = ((y - mean) ** 4).mean() / u**4
    answers.append(
        {
            "mean": mean,
            "u": u,
            "low": low,
            "high": high,
            "scatter": [u / TRIALS**0.5, u * ((kurtosis - 1) / 4 / TRIALS) ** 0.5, end * (b - a), end * (d - c)],
        }
    )
print(json.dumps(answers))
