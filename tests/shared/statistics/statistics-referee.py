# SciPy's answers to what the product reckons itself: Student's t, the normal distribution, robust slopes with their intervals.
import json
import sys

import numpy
from scipy import stats

question = json.load(sys.stdin)
slopes = []
for one in question["series"]:
    found = stats.theilslopes(one["y"], one["x"], alpha=one["confidence"])
    slopes.append([float(found[0]), float(found[1]), float(found[2]), float(found[3])])
json.dump(
    {
        "t": [float(stats.t.cdf(value, freedom)) for value, freedom in question["t"]],
        "normal": [float(stats.norm.cdf(value)) for value in question["normal"]],
        "quantiles": [float(stats.norm.ppf(share)) for share in question["shares"]],
        "slopes": slopes,
    },
    sys.stdout,
)
