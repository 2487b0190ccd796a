#!/usr/bin/env python3
"""Makes a COMTRADE recording of eight channels, as long as wanted: the input of the speed comparison.

usage: make_recording.py OUT-WITHOUT-ENDING SECONDS [RATE] [LINE-HZ]

Invented signals: 230/400 V four-wire, 5th and 7th harmonics, a lagging distorted load, voltage fluctuation at 8.8 Hz, a slowly
drifting frequency, one dip every 97 s. Needs numpy (Debian: python3-numpy).
"""
import sys
import numpy as np

out, seconds = sys.argv[1], float(sys.argv[2])
rate = float(sys.argv[3]) if len(sys.argv) > 3 else 10240.0
line = float(sys.argv[4]) if len(sys.argv) > 4 else 50.0
count = int(round(seconds * rate))
volts, amps = 0.02, 0.01  # per count

names = [("V1", "A", "V"), ("V2", "B", "V"), ("V3", "C", "V"), ("VN", "N", "V"), ("I1", "A", "A"), ("I2", "B", "A"), ("I3", "C", "A"), ("IN", "N", "A")]
with open(out + ".cfg", "w", newline="") as cfg:
    cfg.write("invented panel,bench,2013\r\n8,8A,0D\r\n")
    for number, (name, phase, unit) in enumerate(names, 1):
        cfg.write(f"{number},{name},{phase},,{unit},{volts if unit == 'V' else amps},0,0,-32767,32767,1,1,P\r\n")
    cfg.write(f"{line:g}\r\n1\r\n{rate:g},{count}\r\n02/03/2026,00:00:00.000000\r\n02/03/2026,00:00:00.000000\r\nBINARY\r\n1\r\n0,0\r\n0,3\r\n")

rng = np.random.default_rng(1)
record = np.dtype([("n", "<u4"), ("t", "<u4"), ("a", "<i2", (8,))])
with open(out + ".dat", "wb") as dat:
    block = int(rate) * 10
    for first in range(0, count, block):
        n = np.arange(first, min(first + block, count))
        t = n / rate
        drift = 0.02 * np.sin(2 * np.pi * t / 300)
        theta = 2 * np.pi * (line * t + drift * 300 / (2 * np.pi) * 0.02)
        envelope = 1 + 0.00125 * np.sin(2 * np.pi * 8.8 * t)
        dip = np.where((t % 97 > 60) & (t % 97 < 60.1), 0.6, 1.0)
        data = np.zeros(n.size, dtype=record)
        data["n"], data["t"] = n + 1, np.round(t * 1e6).astype(np.uint64) % (1 << 32)
        total = np.zeros(n.size)
        for phase in range(3):
            angle = theta - phase * 2 * np.pi / 3
            v = 230 * np.sqrt(2) * envelope * (dip if phase == 1 else 1) * (np.cos(angle) + 0.03 * np.cos(5 * angle + 1) + 0.02 * np.cos(7 * angle))
            i = (40 + 5 * phase) * np.sqrt(2) * (np.cos(angle - 0.5) + 0.2 * np.cos(3 * angle) + 0.15 * np.cos(5 * angle + 2) + 0.1 * np.cos(7 * angle))
            total += i
            data["a"][:, phase] = np.round(v / volts + rng.normal(0, 1, n.size))
            data["a"][:, 4 + phase] = np.round(i / amps + rng.normal(0, 1, n.size))
        data["a"][:, 7] = np.round(total / amps)
        data.tofile(dat)
