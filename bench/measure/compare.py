#!/usr/bin/env python3
"""The measuring pass beside an equivalent pipeline in numpy and scipy, on the same file in the same run.

usage: compare.py FILE.cfg [SECONDS-FOR-SCIPY]

The scipy side computes the same main quantities as vectorised code would: 10-cycle windows resampled to 2,048 points by a cubic
spline at the measured frequency, rms, spectra with subgroups to the 50th and THD, half-cycle rms, powers, unbalance, and flicker by
scipy.signal filters. No events, no aggregation, no flags, no interharmonics: it does less. It works on the first SECONDS (default 60)
and is scaled up, since its memory grows with the length. Needs Debian's python3-numpy and python3-scipy.
"""
import json
import subprocess
import sys
import time
import numpy as np
from scipy import interpolate, signal

path = sys.argv[1]
seconds = float(sys.argv[2]) if len(sys.argv) > 2 else 60.0
program = "artifacts/bin/Leadwright.App/release/leadwright.dll"

lines = open(path).read().splitlines()
count = int(lines[1].split(",")[1].rstrip("Aa"))
gains = np.array([float(line.split(",")[5]) for line in lines[2:2 + count]])
rate = float(lines[2 + count + 2].split(",")[0])
record = np.dtype([("n", "<u4"), ("t", "<u4"), ("a", "<i2", (count,))])
total = np.memmap(path[:-4] + ".dat", dtype=record, mode="r").size / rate


def flicker(u, rate):
    half = int(rate / 100)
    rms = np.sqrt(np.mean(u[: u.size // half * half].reshape(-1, half) ** 2, axis=1))
    a = 1 - np.exp(-half / rate / 27.3)
    slow = signal.lfilter([a], [1, a - 1], rms, zi=[rms[0] * (1 - a)])[0]
    x = (u[: slow.size * half] / np.repeat(slow, half)) ** 2
    x = signal.decimate(x, 4, ftype="fir")
    fs = rate / 4
    x = signal.lfilter(*signal.butter(1, 0.05, "high", fs=fs), x - 1)
    x = signal.sosfilt(signal.butter(6, 35, fs=fs, output="sos"), x)
    k, lam, w1, w2, w3, w4 = 1.74802, *(2 * np.pi * np.array([4.05981, 9.15494, 2.27979, 1.22535, 21.9]))
    num = np.polymul([k * w1, 0], [1 / w2, 1])
    den = np.polymul([1, 2 * lam, w1 * w1], np.polymul([1 / w3, 1], [1 / w4, 1]))
    x = signal.lfilter(*signal.bilinear(num, den, fs), x) ** 2
    x = signal.lfilter(*signal.bilinear([1], [0.3, 1], fs), x) * 1.10e6
    p = np.percentile(x[int(10 * fs):], 100 - np.array([0.1, 0.7, 1, 1.5, 2.2, 3, 4, 6, 8, 10, 13, 17, 30, 50, 80]))
    return np.sqrt(.0314 * p[0] + .0525 * p[1:4].mean() + .0657 * p[4:7].mean() + .28 * p[7:12].mean() + .08 * p[12:].mean())


def pipeline():
    raw = np.fromfile(path[:-4] + ".dat", dtype=record, count=int(seconds * rate))
    data = raw["a"].astype(np.float64) * gains
    v1 = data[:, 0]
    smooth = signal.sosfiltfilt(signal.butter(2, [40, 60], "band", fs=rate, output="sos"), v1)
    rising = np.flatnonzero((smooth[:-1] < 0) & (smooth[1:] >= 0))
    crossing = rising - smooth[rising] / (smooth[rising + 1] - smooth[rising])
    edges = crossing[::10]
    places = (edges[:-1, None] + (edges[1:] - edges[:-1])[:, None] * np.arange(2048) / 2048).ravel()
    windows = interpolate.CubicSpline(np.arange(data.shape[0]), data, axis=0)(places).reshape(-1, 2048, count)
    rms = np.sqrt((windows ** 2).mean(axis=1))
    spectrum = np.fft.rfft(windows, axis=1) * np.sqrt(2) / 2048
    square = np.abs(spectrum) ** 2
    orders = 10 * np.arange(1, 51)
    subgroups = square[:, orders - 1] + square[:, orders] + square[:, orders + 1]
    thd = np.sqrt(subgroups[:, 1:].sum(axis=1) / subgroups[:, 0])
    watts = (windows[:, :, 0:3] * windows[:, :, 4:7]).mean(axis=1)
    complex_power = spectrum[:, 10, 0:3] * np.conj(spectrum[:, 10, 4:7])
    a = np.exp(2j * np.pi / 3)
    phasors = spectrum[:, 10, 0:3]
    u2 = np.abs(phasors @ np.array([1, a * a, a])) / np.abs(phasors @ np.array([1, a, a * a]))
    sums = np.concatenate([np.zeros((1, count)), np.cumsum(data ** 2, axis=0)])
    half = np.round(np.sort(np.concatenate([crossing, crossing[:-1] + np.diff(crossing) / 2]))).astype(int)
    half_cycle = np.sqrt((sums[half[2:]] - sums[half[:-2]]) / (half[2:] - half[:-2])[:, None])
    pst = [flicker(data[:, lane], rate) for lane in range(4)]
    return rms.mean(axis=0), thd.mean(axis=0), watts.mean(axis=0), complex_power.imag.mean(axis=0), u2.mean(), half_cycle.min(axis=0), pst


best = (1e9, 1e9)
for _ in range(2):
    clock, processor = time.perf_counter(), time.process_time()
    found = pipeline()
    best = min(best, (time.process_time() - processor, time.perf_counter() - clock))
scale = total / seconds

import resource
ours = (1e9, 1e9)
for _ in range(3):
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    clock = time.perf_counter()
    answer = subprocess.run(["dotnet", program, "measure", path, "--nominal", "230/400", "--format", "json"], capture_output=True, text=True, check=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    ours = min(ours, (used, time.perf_counter() - clock))
summary = json.loads(answer.stdout)

print(f"recording: {total:.0f} s, {count} channels, {rate:.0f} samples/s; scipy worked on {seconds:.0f} s, scaled by {scale:.1f}\n")
print("| pipeline | processor s | clock s | times real time (processor) |")
print("| --- | --- | --- | --- |")
print(f"| numpy {np.__version__}, scipy | {best[0] * scale:.1f} | {best[1] * scale:.1f} | {total / (best[0] * scale):.0f} |")
print(f"| leadwright measure, started as a program | {ours[0]:.2f} | {ours[1]:.2f} | {total / ours[0]:.0f} |")
print(f"\nratio: {best[0] * scale / ours[0]:.0f} in processor time, {best[1] * scale / ours[1]:.0f} on the clock\n")
channels = list(summary["channels"].values())
print("| quantity | scipy | measure |")
print("| --- | --- | --- |")
print(f"| V1 rms | {found[0][0]:.4f} | {channels[0]['rms']:.4f} |")
print(f"| V1 THD % | {100 * found[1][0]:.4f} | {channels[0]['thd_percent']:.4f} |")
print(f"| P1 | {found[2][0]:.3f} | {summary['phases']['1']['watts']:.3f} |")
print(f"| Q1 fundamental | {found[3][0]:.3f} | {summary['phases']['1']['vars']:.3f} |")
