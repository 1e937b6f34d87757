"""Reads models as JSON from standard input; writes, for each, value and standard uncertainty by the package
`uncertainties`: first order, exact derivatives, correlations included."""

import json
import sys

import numpy as np
from uncertainties import correlated_values, umath


FUNCTIONS = {name: getattr(umath, name) for name in ("sin", "exp", "log", "sqrt")}


def answer(model, number):
    names = [f"x{i}" for i in range(len(model["values"]))]
    code = compile(model["text"], f"model {number}", "eval")
    u = np.array(model["us"])
    covariance = np.outer(u, u) * np.array(model["r"])
    first = dict(zip(names, correlated_values(model["values"], covariance)))
    linear = eval(code, {**FUNCTIONS, **first})
    return {"value": linear.nominal_value, "u": linear.std_dev}


print(json.dumps([answer(model, number) for number, model in enumerate(json.load(sys.stdin))]))
