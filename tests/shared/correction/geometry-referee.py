"""Holes, flats and rings once more: masses and first moments by quadrature, angles by a root search."""

import json
import sys

import numpy as np
from scipy import integrate, optimize

PRECISE = {"epsabs": 0, "epsrel": 1e-13, "limit": 200}


def hole_area(case):
    """Cross section of the hole at a distance from its mouth: full to the shoulder, then the drill's point."""
    radius = case["diameterMm"] / 2
    slope = np.tan(np.deg2rad(case["pointAngleDeg"]) / 2)

    def cylinder(_):
        return np.pi * radius**2

    def cone(z):
        return np.pi * (radius - (z - case["depthMm"]) * slope) ** 2

    tip = case["depthMm"] + radius / slope
    return [(0, case["depthMm"], cylinder), (case["depthMm"], tip, cone)]


def integral(pieces, weight):
    return sum(integrate.quad(lambda z: area(z) * weight(z), low, high, **PRECISE)[0] for low, high, area in pieces)


def radial(case):
    pieces = hole_area(case)
    density = case["densityGCm3"] / 1000
    return [density * integral(pieces, lambda _: 1.0), density * integral(pieces, lambda z: case["radiusMm"] - z)]


def axial(case):
    mass = case["densityGCm3"] / 1000 * integral(hole_area(case), lambda _: 1.0)
    return [mass, mass * case["radiusMm"]]


def flat(case):
    radius = case["radiusMm"]
    # By the angle across the segment, where nothing has an edge: x = R cos a, width of the chord 2 R sin a.
    half = np.arccos((radius - case["depthMm"]) / radius)
    area = integrate.quad(lambda a: 2 * (radius * np.sin(a)) ** 2, 0, half, **PRECISE)[0]
    moment = integrate.quad(lambda a: 2 * (radius * np.sin(a)) ** 2 * radius * np.cos(a), 0, half, **PRECISE)[0]
    per_mm = case["densityGCm3"] / 1000 * case["widthMm"]
    return [per_mm * area, per_mm * moment]


def rings(case):
    first, second = case["each"]
    amount, angle = case["wanted"]["gmm"], np.deg2rad(case["wanted"]["angleDeg"])
    beside = optimize.brentq(
        lambda off: amount**2 + first**2 - 2 * amount * first * np.cos(off) - second**2, 0, np.pi, xtol=1e-15
    )
    one = np.exp(1j * (angle - beside))
    other = amount * np.exp(1j * angle) - first * one
    other /= abs(other)
    return [float(one.real), float(one.imag), float(other.real), float(other.imag)]


WAYS = {"radial": radial, "axial": axial, "flat": flat, "rings": rings}

question = json.load(sys.stdin)
json.dump({kind: [WAYS[kind](case) for case in cases] for kind, cases in question.items()}, sys.stdout)
