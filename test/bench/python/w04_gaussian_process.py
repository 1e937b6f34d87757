"""Counterpart of W4: scikit-learn's Gaussian process."""
import sys

import numpy as np
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import RBF, ConstantKernel, WhiteKernel

from generate import checksum, scattered_points, unit_grid
from timing import report

size = int(sys.argv[1])
x, y, z = scattered_points(404, size, 0.1)
p, grid = np.column_stack((x, y)), unit_grid(100)


def run():
    m = z.mean()
    law = ConstantKernel(1.0, (1e-3, 1e3)) * RBF(0.3, (1e-2, 1e1)) + WhiteKernel(0.01, (1e-6, 1e1))
    process = GaussianProcessRegressor(law, alpha=1e-10, n_restarts_optimizer=0).fit(p, z - m)
    mean, sd = process.predict(grid, return_std=True)
    return process, mean + m, sd


def result(outcome):
    process, mean, sd = outcome
    size2, length, noise = np.exp(process.kernel_.theta)
    return {
        "lml": float(process.log_marginal_likelihood_value_),
        "amplitude2": size2,
        "length": length,
        "noise2": noise,
        "mean_of_mean": mean.mean(),
        "mean_50_50": mean[5050],
        "mean_of_sd": sd.mean(),
        "sd_0_0": sd[0],
        "sd_50_50": sd[5050],
    }


report("W4", "sklearn-gpr", size, run, result, checksum(x, y, z))
