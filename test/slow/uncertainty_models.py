"""Reads models as JSON from standard input; writes, for each, value and standard uncertainty by the package
`uncertainties` (first order, correlations included) and mean, standard deviation and 95 % ends by numpy simulation."""

import json
import sys

import numpy as np
from uncertainties import correlated_values, umath

TRIALS = 100_000


def draw(rng, law, centre, u):
    if law == "normal":
        return rng.normal(centre, u, TRIALS)
    if law == "rectangular":
        return centre + u * np.sqrt(3) * rng.uniform(-1, 1, TRIALS)
    if law == "triangular":
        half = u * np.sqrt(6)
        return rng.triangular(centre - half, centre, centre + half, TRIALS)
    return centre + u * np.sqrt(2) * np.sin(np.pi * rng.uniform(-0.5, 0.5, TRIALS))


def functions(module):
    return {name: getattr(module, name) for name in ("sin", "exp", "log", "sqrt")}


def answer(model, number):
    names = [f"x{i}" for i in range(len(model["values"]))]
    code = compile(model["text"], f"model {number}", "eval")
    u = np.array(model["us"])
    covariance = np.outer(u, u) * np.array(model["r"])
    first = dict(zip(names, correlated_values(model["values"], covariance)))
    linear = eval(code, {**functions(umath), **first})
    rng = np.random.default_rng(number)
    if model["correlated"]:
        columns = rng.multivariate_normal(model["values"], covariance, TRIALS).T
    else:
        columns = [draw(rng, *one) for one in zip(model["laws"], model["values"], model["us"])]
    cloud = eval(code, {**functions(np), **dict(zip(names, columns))})
    return {
        "value": linear.nominal_value,
        "u": linear.std_dev,
        "mean": cloud.mean(),
        "spread": cloud.std(ddof=1),
        "ends": np.quantile(cloud, [0.025, 0.975]).tolist(),
    }


print(json.dumps([answer(model, number) for number, model in enumerate(json.load(sys.stdin))]))
