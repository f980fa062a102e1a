# Recomputes with NumPy and SciPy what the vibration mathematics said of the same rows.
import json
import sys
import warnings

import numpy as np
from scipy import fft, interpolate, optimize, signal, stats

warnings.filterwarnings('error')
asked = json.load(sys.stdin)
rows = [np.array(row) for row in asked['rows']]
rate = asked['sampleRateHz']
band = asked['bandHz']
FACTOR = {
    'acceleration': lambda w: np.ones_like(w),
    'velocity': lambda w: np.divide(1e3, w, out=np.zeros_like(w), where=w > 0),
    'displacement': lambda w: np.divide(1e6, w**2, out=np.zeros_like(w), where=w > 0),
}


def transform(x):
    return fft.rfft(x)


def averaged(x, window, lines, quantity):
    size = min(len(x), 2 * lines)
    f, power = signal.welch(
        x - x.mean(), rate, window=window, nperseg=size, noverlap=size - size // 2, detrend=False, scaling='spectrum'
    )
    height = np.sqrt(2 * power)
    height[0] /= np.sqrt(2)
    if size % 2 == 0:
        height[-1] /= np.sqrt(2)
    height = height * FACTOR[quantity](2 * np.pi * f)
    if quantity != 'acceleration':
        height[f < 2.5 * rate / size] = 0
    return height


def overall(x, quantity, share):
    n = len(x)
    power = np.abs(fft.rfft(x - x.mean())) ** 2
    f = np.arange(len(power)) * rate / n
    sides = np.full(len(power), 2.0)
    sides[0] = 1
    if n % 2 == 0:
        sides[-1] = 1
    return float(np.sqrt(np.sum(sides * power * share(f) * FACTOR[quantity](2 * np.pi * f) ** 2)) / n)


def ideal(f):
    return ((f >= band[0] - 1e-6) & (f <= band[1] + 1e-6)).astype(float)


def filtered(f):
    low = signal.butter(3, 2 * np.pi * band[0], 'highpass', analog=True)
    high = signal.butter(3, 2 * np.pi * band[1], 'lowpass', analog=True)
    with np.errstate(all='ignore'):
        warnings.simplefilter('ignore')
        response = signal.freqs(*low, 2 * np.pi * f)[1] * signal.freqs(*high, 2 * np.pi * f)[1]
        warnings.simplefilter('error')
    return np.abs(response) ** 2


def moments(x):
    y = x - x.mean()
    rms = np.sqrt(np.mean(y**2))
    return [x.mean(), rms, np.abs(y).max(), np.ptp(x), np.abs(y).max() / rms, stats.skew(x), stats.kurtosis(x, fisher=False)]


def weights_of(kind, n):
    return np.ones(n) if kind == 'even' else signal.get_window('hann', n, fftbins=True)


def middle_of(kind, n):
    return (n - 1) / 2 if kind == 'even' else n / 2


def sine_fit(x, omega, harmonics, kind):
    t = np.arange(len(x)) - middle_of(kind, len(x))
    columns = [np.ones(len(x))]
    for k in harmonics:
        columns += [np.cos(k * omega * t), np.sin(k * omega * t)]
    root = np.sqrt(weights_of(kind, len(x)))
    y = x - x.mean()
    return np.linalg.lstsq(np.array(columns).T * root[:, None], y * root, rcond=None)[0]


def frequency(x, guess, harmonics, kind):
    t = np.arange(len(x)) - middle_of(kind, len(x))
    y = x - x.mean()
    root = np.sqrt(weights_of(kind, len(x)))

    def model(p):
        value = np.full(len(x), p[1])
        for i, k in enumerate(harmonics):
            value = value + p[2 + 2 * i] * np.cos(k * p[0] * t / len(x)) + p[3 + 2 * i] * np.sin(k * p[0] * t / len(x))
        return root * (value - y)

    start = [guess * len(x), *sine_fit(x, guess, harmonics, kind)]
    return optimize.least_squares(model, start, method='lm', xtol=1e-15, ftol=1e-15, gtol=1e-15).x[0] / len(x)


def along(x, marks, per_turn):
    slopes = np.gradient(x)
    curve = interpolate.CubicHermiteSpline(np.arange(len(x)), x, slopes)
    turns = np.arange(per_turn * (len(marks) - 1)) / per_turn
    return curve(np.interp(turns, np.arange(len(marks)), marks) * rate)


answers = []
for x in rows:
    lines = asked['lines']
    answers.append(
        {
            'transform': [*transform(x).real, *transform(x).imag],
            'moments': moments(x),
            **{
                f'{quantity} through {name}': list(averaged(x, window, lines, quantity))
                for quantity in FACTOR
                for name, window in (('hann', 'hann'), ('flat-top', 'flattop'), ('rectangular', 'boxcar'))
            },
            'whole row': list(averaged(x, 'hann', len(x), 'velocity')),
            **{f'overall {quantity}': [overall(x, quantity, ideal)] for quantity in FACTOR},
            **{f'overall {quantity} as ISO 2954': [overall(x, quantity, filtered)] for quantity in FACTOR},
            'sine fit, even': list(sine_fit(x, asked['omega'], asked['harmonics'], 'even')),
            'sine fit, hann': list(sine_fit(x, asked['omega'], asked['harmonics'], 'hann')),
            'frequency, even': [frequency(x, asked['guess'], asked['harmonics'], 'even')],
            'frequency, hann': [frequency(x, asked['guess'], asked['harmonics'], 'hann')],
            'equal angles': list(along(x, asked['marksS'], asked['perTurn'])),
        }
    )
json.dump(answers, sys.stdout)
