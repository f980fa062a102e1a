"""The balance mathematics once more, in NumPy and SciPy, by other ways than the code under test."""

import json
import sys

import numpy as np
from scipy import linalg, optimize


def vector(polar):
    return polar["gmm"] * np.exp(1j * np.deg2rad(polar["angleDeg"]))


def pair(value):
    return [float(value.real), float(value.imag)]


def total(case):
    return pair(np.sum([vector(one) for one in case["vectors"]]))


def static_and_couple(case):
    a, b = vector(case["a"]), vector(case["b"])
    # As moments of forces about the centre of mass, by the cross product in space.
    moment = np.zeros(3)
    for force, at in ((a, case["aMm"]), (b, case["bMm"])):
        arm = np.array([0.0, 0.0, at - case["centreMm"]])
        moment += np.cross(arm, [force.real, force.imag, 0.0])
    # arm x force turns the direction by a quarter: back to that of the unbalance.
    return pair(a + b) + [float(moment[1]), float(-moment[0])]


def moved(case):
    forces = np.array([vector(one["unbalance"]) for one in case["placed"]])
    places = np.array([one["positionMm"] for one in case["placed"]])
    equations = np.array([[1.0, 1.0], [case["toAMm"], case["toBMm"]]])
    to_a, to_b = linalg.solve(equations, [forces.sum(), (forces * places).sum()])
    return pair(to_a) + pair(to_b)


def indexed(case):
    turns = np.deg2rad([one["turnDeg"] for one in case["readings"]])
    values = np.array([vector(one["unbalance"]) for one in case["readings"]])
    sense = 1 if case["frame"] == "machine" else -1
    design = np.column_stack([np.ones(len(turns)), np.exp(1j * sense * turns)])
    still, turning = linalg.lstsq(design, values)[0]
    assembly, bench = (turning, still) if case["frame"] == "machine" else (still, turning)
    return pair(assembly) + pair(bench)


def trimmed(case):
    def reading(one):
        phase = np.deg2rad(one["phaseDeg"])
        return one["amplitude"] * np.exp(1j * (phase if case["phaseSense"] == "lead" else -phase))

    initial = np.array([reading(one) for one in case["initial"]])
    kept = np.zeros(2, complex)
    states, changes = [], []
    for trial in case["trials"]:
        state = kept.copy()
        state[trial["plane"]] += vector(trial["mass"])
        if trial["leftOn"]:
            kept = state
        states.append(state)
        changes.append(np.array([reading(one) for one in trial["readings"]]) - initial)
    planes = 1 + max(trial["plane"] for trial in case["trials"])
    states = np.array(states)[:, :planes]
    influence = (np.linalg.pinv(states) @ np.array(changes)).T
    standing = initial + influence @ kept[:planes]
    correction = -np.linalg.pinv(influence) @ standing
    values = np.linalg.svd(influence, compute_uv=False)
    left = standing + influence @ correction
    answer = [float(values[0] / values[-1])]
    for one in correction:
        answer += pair(one)
    return answer + [float(np.linalg.norm(left) / np.linalg.norm(standing))]


def by_amplitudes(case):
    # The heavy spot and the trial mass's effect from the three lengths, by a root search instead of the cosine rule.
    initial, first, second = case["initial"], case["withTrial"], case["withTrialOpposite"]

    def misses(unknown):
        effect, angle = unknown
        return [
            abs(initial + effect * np.exp(1j * angle)) - first,
            abs(initial - effect * np.exp(1j * angle)) - second,
        ]

    start = [np.sqrt(max((first**2 + second**2) / 2 - initial**2, 1e-9)), np.pi / 2]
    effect, angle = optimize.fsolve(misses, start, xtol=1e-14)
    return [float(effect), float(np.cos(angle))]


WAYS = {
    "total": total,
    "staticAndCouple": static_and_couple,
    "moved": moved,
    "indexed": indexed,
    "trimmed": trimmed,
    "byAmplitudes": by_amplitudes,
}

question = json.load(sys.stdin)
json.dump({kind: [WAYS[kind](case) for case in cases] for kind, cases in question.items()}, sys.stdout)
