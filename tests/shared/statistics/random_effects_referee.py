# The density of rows with shared effects from the dense covariance, effects by generalized least squares.
import json
import sys

import numpy as np
from scipy.stats import multivariate_normal

question = json.load(sys.stdin)
answers = []
for case in question["cases"]:
    errors = np.array(case["errorVariances"])
    effects = np.array(case["effectVariances"])
    z = np.zeros((len(errors), len(effects)))
    for row, held in enumerate(case["effectsOf"]):
        z[row, held] = 1
    covariance = np.diag(errors) + z @ np.diag(effects) @ z.T
    values = np.array(case["values"])
    answers.append(
        {
            "logDensity": float(multivariate_normal(cov=covariance).logpdf(values)),
            "effects": (np.diag(effects) @ z.T @ np.linalg.solve(covariance, values)).tolist(),
        }
    )
print(json.dumps({"cases": answers}))
