#!/usr/bin/env python3
"""Writes the tables beside it: what numpy and scipy make of pseudo-random signals, stage by stage of the measuring pass.

usage: make.py            (Debian's python3-numpy and python3-scipy; written with numpy 1.24.2, scipy 1.10.1)

The signals come from one congruential generator (W. H. Press et al., Numerical Recipes in C, 2nd ed., section 7.1, "quick and dirty":
x = 1664525·x + 1013904223 modulo 2^32), which the tests repeat, so that only the answers are kept.
"""
import csv
import os
import numpy as np
from scipy import fft, signal

here = os.path.dirname(os.path.abspath(__file__))


def uniform(seed, count):
    """Numbers from −1 to 1."""
    x, out = seed, np.empty(count)
    for k in range(count):
        x = (1664525 * x + 1013904223) % (1 << 32)
        out[k] = x / 2147483648.0 - 1
    return out


def table(name, header, rows):
    with open(os.path.join(here, name), "w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(header)
        for row in rows:
            writer.writerow([repr(float(value)) if isinstance(value, (float, np.floating)) else value for value in row])


# 1. The transform: 2,048 numbers in each of eight lanes, frame by frame.
frames = uniform(1, 2048 * 8).astype(np.float32).astype(np.float64).reshape(2048, 8)
bins = fft.rfft(frames, axis=0)
table("transform.csv", ["lane", "bin", "real", "imaginary"],
      [(lane, k, bins[k, lane].real, bins[k, lane].imag) for lane in range(8) for k in range(0, 1025, 16)])

# 2. A window: ten cycles of 50 Hz at 12,800 samples a second (2,560 samples, read at 2,048 places by the pass), every bin to 505 of a
#    random size and phase. Lane 0 only.
numbers = uniform(2, 2 * 506)
n = np.arange(2560)
wave = np.zeros(2560)
for k in range(1, 506):
    size = (325 if k == 10 else 8.0 / (1 + k / 50)) * (1 + 0.5 * numbers[2 * k])
    wave += size * np.cos(2 * np.pi * k * n / 2560 + np.pi * numbers[2 * k + 1])
squares = 2 * np.abs(fft.rfft(wave) / 2560) ** 2
rows = [("rms", 0, np.sqrt(np.mean(wave ** 2)))]
subgroup = lambda h: np.sqrt(squares[10 * h - 1:10 * h + 2].sum())
group = lambda h: np.sqrt(squares[10 * h - 4:10 * h + 5].sum() + 0.5 * squares[10 * h - 5] + 0.5 * squares[10 * h + 5])
centred = lambda h: np.sqrt(squares[10 * h + 2:10 * h + 9].sum())
rows += [("subgroup", h, subgroup(h)) for h in range(1, 51)]
rows += [("interharmonic", h, centred(h)) for h in range(0, 50)]
rows += [("thd", 0, np.sqrt(squares[20:501:10].sum() / squares[10])),
         ("subgroup_thd", 0, np.sqrt(sum(subgroup(h) ** 2 for h in range(2, 51))) / subgroup(1)),
         ("group_thd", 0, np.sqrt(sum(group(h) ** 2 for h in range(2, 50)) + group(50) ** 2) / group(1))]
table("window.csv", ["quantity", "order", "value"], rows)

# 3. Flicker: 230 V at 50 Hz, 2,560 samples a second; every tenth of a second the size steps to 1 ± up to 1 %. Pinst by scipy's filters.
rate, seconds = 2560.0, 60
steps = uniform(3, seconds * 10)
t = np.arange(int(seconds * rate)) / rate
u = 230 * np.sqrt(2) * np.sin(2 * np.pi * 50 * t) * (1 + 0.01 * np.repeat(steps, int(rate / 10)))
u = u.astype(np.float32).astype(np.float64)


def pinst(u, lamp, line):
    depth, (k, lam, w1, w2, w3, w4) = (
        (0.250, (1.74802, 4.05981, 9.15494, 2.27979, 1.22535, 21.9)) if lamp == 230
        else (0.321, (1.6357, 4.167375, 9.077169, 2.939902, 1.394468, 17.31512)))
    turn = 2 * np.pi
    lam, w1, w2, w3, w4 = (turn * value for value in (lam, w1, w2, w3, w4))
    high = signal.bilinear([1, 0], [1, turn * 0.05], rate)
    low = signal.butter(6, 35 if line == 50 else 42, output="sos", fs=rate)
    eye = signal.bilinear(np.polymul([k * w1, 0], [1 / w2, 1]), np.polymul([1, 2 * lam, w1 * w1], np.polymul([1 / w3, 1], [1 / w4, 1])), rate)
    slow = signal.bilinear([1], [0.3, 1], rate)
    at = turn * 8.8 / rate
    gain = lambda ba, w: abs(signal.freqz(*ba, worN=[w])[1][0])
    size = depth / 100 * gain(high, at) * abs(signal.sosfreqz(low, worN=[at])[1][0]) * gain(eye, at)
    scale = 2 / (size ** 2 * (1 + gain(slow, 2 * at)))
    half = int(round(rate / (2 * line)))
    rms = np.sqrt(np.mean(u[: u.size // half * half].reshape(-1, half) ** 2, axis=1))
    follow = 1 - np.exp(-half / (rate * 27.3))
    reference = signal.lfilter([follow], [1, follow - 1], rms, zi=[rms[0] * (1 - follow)])[0]
    x = u[: reference.size * half] ** 2 / np.repeat(reference, half) ** 2 - 1
    x = signal.lfilter(*eye, signal.sosfilt(low, signal.lfilter(*high, x)))
    return signal.lfilter(*slow, scale * x ** 2)


rows = []
for lamp in (230, 120):
    # The meter leaves out its first three samples, where its averages lack a part: the slow reference starts there.
    p = pinst(u[3:], lamp, 50)
    rows += [(lamp, second, p[int(second * rate) - 4]) for second in range(15, seconds)]
table("flicker.csv", ["lamp_V", "second", "pinst"], rows)

# 4. Phasors of single cycles: two cycles of 50 Hz at 10,000 samples a second under scipy's periodic Hann window; harmonics and noise.
numbers = uniform(4, 4000)
t = np.arange(4000) / 10000.0
wave = 325 * np.cos(2 * np.pi * 50 * t + 0.4) + 30 * np.cos(2 * np.pi * 150 * t - 1) + 20 * np.cos(2 * np.pi * 350 * t + 2) + 3 * numbers
wave[2000:] *= 0.9
hann = signal.windows.hann(400, sym=False)
rows = []
for cycle in range(19):
    first = 200 * cycle
    value = np.sum(hann * wave[first:first + 400] * np.exp(-2j * np.pi * 50 * (t[first:first + 400]))) * np.sqrt(2) / hann.sum()
    rows.append((cycle, value.real, value.imag))
table("cycle-phasors.csv", ["cycle", "real", "imaginary"], rows)

# 5. Levels exceeded during a share of the time: 20,000 levels spread over three decades.
levels = 10 ** (1.5 * uniform(5, 20000))
table("exceeded.csv", ["percent", "level"], [(share, np.percentile(levels, 100 - share)) for share in (0.1, 0.7, 1, 1.5, 2.2, 3, 4, 6, 8, 10, 13, 17, 30, 50, 80)])
