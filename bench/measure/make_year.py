"""Writes an invented year of logged values of a three-phase four-wire service: make_year.py MINUTES FILE.csv

Volts, amperes, watts and vars of three phases, one row every so many minutes, by a fixed seed: working days with a hump at noon, more of it in winter, and noise that
lasts for some minutes. Needs no package.
"""
import datetime
import math
import random
import sys

minutes, path = int(sys.argv[1]), sys.argv[2]
random.seed(7)
start = datetime.datetime(2025, 1, 1)
with open(path, "w") as table:
    table.write("time,V1 (V),V2 (V),V3 (V),I1 (A),I2 (A),I3 (A),P1 (W),P2 (W),P3 (W),Q1 (var),Q2 (var),Q3 (var)\n")
    noise, drift = [0.0, 0.0, 0.0], 0.0
    for row in range(365 * 1440 // minutes):
        time = start + datetime.timedelta(minutes=minutes * row)
        hour = time.hour + time.minute / 60
        season = 1 + 0.25 * math.cos(2 * math.pi * (time.timetuple().tm_yday - 20) / 365)
        hump = 22 * math.exp(-(((hour - 12) / 4) ** 2)) if time.weekday() < 5 else 4 * math.exp(-(((hour - 14) / 5) ** 2))
        drift = 0.97 * drift + random.gauss(0, 0.35)
        volts, amperes, watts, vars_ = [], [], [], []
        for phase in range(3):
            noise[phase] = 0.9 * noise[phase] + random.gauss(0, 0.6)
            power = max(300, 1000 * ((6 + hump * season) * (0.9 + 0.1 * phase) * 0.4 + noise[phase]))
            voltage = 230 + drift + 0.3 * phase - power / 4000 + random.gauss(0, 0.15)
            volts.append(voltage)
            watts.append(power)
            vars_.append(0.35 * power)
            amperes.append(math.hypot(power, 0.35 * power) / voltage)
        cells = [f"{value:.2f}" for value in volts] + [f"{value:.3f}" for value in amperes] + [f"{value:.1f}" for value in watts + vars_]
        table.write(f"{time:%Y-%m-%d %H:%M:%S},{','.join(cells)}\n")
