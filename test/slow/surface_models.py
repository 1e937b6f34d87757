"""Splines by scipy and Gaussian processes by scikit-learn for the cases on standard input."""
import json
import sys
import warnings

import numpy as np
from scipy.interpolate import RBFInterpolator
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import RBF, ConstantKernel, Matern

warnings.simplefilter("ignore")
answers = []
for case in json.load(sys.stdin):
    p, z, q = np.column_stack((case["x"], case["y"])), np.array(case["z"]), np.column_stack((case["px"], case["py"]))
    spline = RBFInterpolator(p, z, kernel="thin_plate_spline", degree=1, smoothing=case["smoothing"])(q)
    size = case["size"]
    lengths = [size["lengthX"], size["lengthY"]]
    law = Matern(lengths, nu=2.5) if case["covariance"] == "matern 5/2" else RBF(lengths)
    process = GaussianProcessRegressor(ConstantKernel(size["variance"]) * law, alpha=case["nugget"], optimizer=None)
    process.fit(p, z)
    mean, sd = process.predict(q, return_std=True)
    answers.append(
        {
            "spline": spline.tolist(),
            "mean": mean.tolist(),
            "sd": sd.tolist(),
            "lml": float(process.log_marginal_likelihood(process.kernel_.theta)),
        }
    )
json.dump(answers, sys.stdout)
