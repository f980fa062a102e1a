# SciPy's answers to how amplitudes are distributed: Bessel's function, Rice's law, moments and shares of its logarithm.
import json
import sys

import numpy
from scipy import special, stats

question = json.load(sys.stdin)

LN = numpy.linspace(-16, 4, 40_001)
STEP = LN[1] - LN[0]


def rice(fixed, clamping):
    """Rice's law of an amplitude: a vector of the square `fixed`, and a complex normal one of the mean square `clamping`."""
    scale = numpy.sqrt(clamping / 2)
    return stats.rice(numpy.sqrt(fixed) / scale, scale=scale)


def logarithm(fixed, clamping):
    law = rice(fixed, clamping)
    density = law.pdf(numpy.exp(LN)) * numpy.exp(LN)
    mean = float((density * LN).sum() * STEP)
    variance = float((density * LN**2).sum() * STEP) - mean**2
    half = numpy.log(law.ppf(0.75)) - numpy.log(law.ppf(0.25))
    return {"mean": mean, "variance": variance, "middleHalf": float(half / (2 * stats.norm.ppf(0.75))) ** 2}


def smeared(share, error):
    """Density of ln at each point, less the factor 1/sqrt(2 pi), where a normal error of the variance `error` is added."""
    law = rice(1 - share, share)
    off = numpy.linspace(-9, 9, 4001) * numpy.sqrt(error)
    weight = stats.norm.pdf(off, scale=numpy.sqrt(error)) * (off[1] - off[0])
    points = numpy.array(question["lns"])[:, None] - off[None, :]
    density = law.pdf(numpy.exp(points)) * numpy.exp(points)
    return (numpy.sqrt(2 * numpy.pi) * (density * weight[None, :]).sum(axis=1)).tolist()


def below(case):
    """Share of loads below each ln: any angle between two vectors, a clamping, an error of the logarithm."""
    angles = (numpy.arange(180) + 0.5) * numpy.pi / 180
    nodes, weights = special.roots_hermitenorm(15)
    weights = weights / weights.sum()
    shares = numpy.zeros(len(case["lns"]))
    for angle in angles:
        law = rice(case["a"] ** 2 + case["b"] ** 2 + 2 * case["a"] * case["b"] * numpy.cos(angle), case["clamping"])
        for node, weight in zip(nodes, weights):
            shifted = numpy.array(case["lns"]) - numpy.sqrt(case["error"]) * node
            shares += weight * law.cdf(numpy.exp(shifted)) / len(angles)
    return shares.tolist()


json.dump(
    {
        "bessel": [float(numpy.log(special.i0e(x)) + x) for x in question["points"]],
        "rice": [
            max(-1e9, float(rice(fixed, clamping).logpdf(numpy.exp(ln)) + ln))
            for ln, fixed, clamping in question["rice"]
        ],
        "logarithms": [logarithm(1 - share, share) for share in question["shares"]],
        "smeared": [smeared(share, error) for share, error in question["smeared"]],
        "below": [below(case) for case in question["mixtures"]],
    },
    sys.stdout,
)
