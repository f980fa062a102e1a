# A window's summary as one would write it with NumPy and SciPy: vectorised, real transforms, nothing computed twice, what does not
# depend on the samples computed once. Reads {rows, …} as JSON on the first line; then a number n a line: answers with the
# seconds of processor time that n summaries took. An empty line ends it.
import json
import sys
from time import process_time

import numpy as np
from scipy import fft

asked = json.loads(sys.stdin.readline())
ROWS = [np.array(row) for row in asked['rows']]
RATE = asked['sampleRateHz']
N = len(ROWS[0])
TOLD_HZ = asked['toldHz']
TEETH = asked['teeth']
BAND = asked['bandHz']
ENVELOPE = asked['envelopeHz']
DEFECTS = asked['defectOrders']
CAGE = DEFECTS['cage']

STEP = RATE / N
LINES = N // 2 + 1
HZ = np.arange(LINES) * STEP
HANN = 0.5 - 0.5 * np.cos(2 * np.pi * np.arange(N) / N)
HANN_SUM = HANN.sum()
T = np.arange(N) - N / 2
TO_VELOCITY = np.divide(1e3, 2 * np.pi * HZ, out=np.zeros(LINES), where=HZ > 0)
VELOCITY = slice(int(np.ceil(BAND[0] / STEP)), int(np.floor(BAND[1] / STEP)) + 1)
HIGH = slice(int(np.ceil(ENVELOPE[0] / STEP)), int(np.floor(ENVELOPE[1] / STEP)) + 1)
EDGES_HZ = 5 * 2 ** (np.arange(int(12 * np.log2(RATE / 2 / 5)) + 1) / 12)
PARTS = 8
PART_SIZE = 2 * (N // (PARTS + 1))
PART_HANN = 0.5 - 0.5 * np.cos(2 * np.pi * np.arange(PART_SIZE) / PART_SIZE)
PART_T = np.arange(PART_SIZE)
PART_FROM = np.arange(PARTS) * (PART_SIZE // 2)
HANN_TT = np.sum(HANN * T * T)


def hann_of(lines):
    """Through a Hann window, from the lines of a transform without one."""
    height = np.zeros(LINES)
    height[1:-1] = np.abs(lines[1:-1] - 0.5 * (lines[:-2] + lines[2:])) * (2 / N)
    return height


def floor_around(height, k):
    near = np.concatenate((height[max(1, k - 24) : k - 3], height[k + 4 : k + 25]))
    return np.median(near)


def standing(height, hz):
    k = hz / STEP
    top = height[int(np.ceil(k - 1)) : int(k + 1) + 1].max()
    return top / floor_around(height, int(round(k)))


def beside_told(height):
    k0 = TOLD_HZ / STEP
    first, last = int(np.ceil(k0 * 0.98)), int(k0 * 1.02)
    k = np.arange(first, last + 1)
    tops = k[(height[k] > height[k - 1]) & (height[k] >= height[k + 1])]
    best, most = None, 0
    for top in tops:
        if height[top] < 4 * floor_around(height, top):
            continue
        side = 1 if height[top + 1] >= height[top - 1] else -1
        ratio = height[top + side] / height[top]
        hz = (top + side * (2 * ratio - 1) / (1 + ratio)) * STEP
        stands = [standing(height, h * hz) for h in (1, 2, 3)]
        evidence = sum(min(30, it) ** 2 for it in stands)
        if evidence > most:
            present = [h for h, it in zip((1, 2, 3), stands) if it >= 4]
            best, most = (hz, present, 1 + int(np.argmax(stands))), evidence
    return best


def columns_of(omega, harmonics):
    """Cosines and sines of the harmonics: one complex exponential, then powers."""
    turn = np.exp(1j * (omega * T))
    columns = [np.ones(N)]
    power, at = turn, 1
    for h in harmonics:
        while at < h:
            power, at = power * turn, at + 1
        columns += [power.real, power.imag]
    return np.array(columns)


def fitted(columns, weighted):
    """Weighted least squares by the normal equations."""
    return np.linalg.solve((columns * HANN) @ columns.T, columns @ weighted)


def refined(weighted, hz, harmonics):
    omega = 2 * np.pi * hz / RATE
    for _ in range(8):
        columns = columns_of(omega, harmonics)
        coefficients = fitted(columns, weighted)
        rest = weighted - HANN * (coefficients @ columns)
        slope = np.zeros(N)
        norm = 0
        for i, h in enumerate(harmonics):
            c, s = coefficients[1 + 2 * i : 3 + 2 * i]
            slope += h * (s * columns[1 + 2 * i] - c * columns[2 + 2 * i])
            norm += h * h * (c * c + s * s) * HANN_TT / 2
        step = np.dot(rest * T, slope) / norm
        omega += step
        if abs(step) < 1e-6 * 2 * np.pi / N:
            break
    return omega * RATE / (2 * np.pi)


def spread(y, hz, harmonics):
    """Of the strongest harmonic: one arrow for each part, all parts at once."""
    spreads = []
    for h in harmonics:
        omega = 2 * np.pi * h * hz / RATE
        parts = np.lib.stride_tricks.sliding_window_view(y, PART_SIZE)[PART_FROM]
        arrows = (parts @ (PART_HANN * np.exp(-1j * omega * PART_T))) * np.exp(-1j * omega * PART_FROM)
        turns = np.angle(arrows[1:] * np.conj(arrows[:-1]))
        percent = np.abs(turns - turns.mean()).max() / (2 * np.pi * h * hz * PART_SIZE / 2 / RATE)
        spreads.append((np.abs(arrows).min(), 100 * percent))
    return max(spreads)[1]


def levels_of(height):
    velocity = height * TO_VELOCITY
    velocity[:3] = 0
    power = np.concatenate(([0], np.cumsum(velocity * velocity / 3)))
    below = np.interp(EDGES_HZ / STEP + 0.5, np.arange(LINES + 1), power)
    return np.sqrt(np.diff(below))


def top_within(spectrum, at, reach):
    first = int(np.ceil(at - reach))
    part = spectrum[first : int(at + reach) + 1]
    k = int(part.argmax())
    return first + k, part[k]


def bearing(spectrum, hz, floor):
    findings = []
    for part, order in DEFECTS.items():
        at = order * hz / STEP
        line, top = top_within(spectrum, at, max(0.5, 0.02 * at))
        power = (top / floor) ** 2
        harmonics, sidebands = 1, 0
        for h in (2, 3, 4):
            _, height = top_within(spectrum, h * line, 1 + 0.25 * h)
            if height >= 3 * floor:
                harmonics += 1
                power += (height / floor) ** 2
        beside = {'inner': (1, 2), 'rolling': (CAGE, 2 * CAGE)}.get(part, ())
        for apart in (sign * it * hz / STEP for it in beside for sign in (-1, 1)):
            _, height = top_within(spectrum, line + apart, 1)
            if height >= 3 * floor:
                sidebands += 1
                power += min(height, top) ** 2 / floor**2
        findings.append((part, line * STEP, np.sqrt(power), harmonics, sidebands))
    return findings


def health(x, power):
    """The plain part of signal health: samples at the extremes, the longest hold, the medians of fiftieths of the rate."""
    at_rails = int(np.count_nonzero(x == x.max()) + np.count_nonzero(x == x.min()))
    moving = np.flatnonzero(np.diff(x))
    hold = int(np.diff(moving).max()) if len(moving) > 1 else N
    bands = np.median(power[1 : 1 + 25 * ((LINES - 1) // 25)].reshape(25, -1), axis=1)
    return at_rails, hold, bands


def summary(x):
    mean = x.mean()
    y = x - mean
    squares = y * y
    variance = squares.mean()
    rms = np.sqrt(variance)
    peak = max(y.max(), -y.min())
    kurtosis = np.dot(squares, squares) / N / variance**2
    lines = fft.rfft(y)
    power = lines.real**2 + lines.imag**2
    overall = np.sqrt(2 * np.dot(power[VELOCITY], TO_VELOCITY[VELOCITY] ** 2)) / N
    height = hann_of(lines)
    weighted = y * HANN
    line, present, highest = beside_told(height)
    hz = refined(weighted, line, [1] if 1 in present else present)
    wanted = sorted({1, 2, 3, TEETH})
    coefficients = fitted(columns_of(2 * np.pi * hz / RATE, wanted), weighted)
    heights = np.hypot(coefficients[1::2], coefficients[2::2])
    orders = {h: 1e3 * a / np.sqrt(2) / (2 * np.pi * h * hz) for h, a in zip(wanted, heights)}
    uneven = spread(y, hz, [highest])
    analytic = np.zeros(N, complex)
    analytic[HIGH] = 2 * lines[HIGH]
    envelope = np.abs(fft.ifft(analytic, overwrite_x=True))
    envelope -= envelope.mean()
    envelope_rms = np.sqrt(np.dot(envelope, envelope) / N)
    spectrum = np.abs(fft.rfft(envelope * HANN)) * (2 / HANN_SUM)
    floor = np.median(spectrum[int(np.ceil(0.25 * hz / STEP)) : int(12 * hz / STEP) + 1])
    return {
        'overallMmS': overall,
        'rms': rms,
        'peak': peak,
        'crest': peak / rms,
        'kurtosis': kurtosis,
        'hz': hz,
        'spread': uneven,
        'orders': [orders[h] for h in wanted],
        'envelopeRms': envelope_rms,
        'floor': floor,
        'levels': levels_of(height),
        'bearing': bearing(spectrum, hz, floor),
        'health': health(x, power),
    }


first = summary(ROWS[0])
told = {name: value for name, value in first.items() if name not in ('levels', 'bearing', 'health')}
told['orders'] = list(first['orders'])
told['levels'] = list(first['levels'])
told['bearing'] = [[part, float(hz), float(indicator)] for part, hz, indicator, *_ in first['bearing']]
print(json.dumps(told), flush=True)
for line in sys.stdin:
    if not line.strip():
        break
    count = int(line)
    begun = process_time()
    for i in range(count):
        summary(ROWS[i % len(ROWS)])
    print(process_time() - begun, flush=True)
