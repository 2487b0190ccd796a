"""Writes an invented log of one-second values: make_seconds.py DAYS COLUMNS FILE.csv

Twelve columns of volts, amperes, watts and vars of a three-phase four-wire service, then columns of other numbers up to COLUMNS (at most 202). A working day, a day off,
and on the day in the middle lead V2 off from 10:00 to 14:00; the days' rows repeat, so that a year of 200 columns (32 GB) is written in some twenty minutes. Needs no package.
"""
import datetime
import math
import random
import sys

days, columns, path = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
others = min(max(columns - 12, 0), 190)
random.seed(7)


def day(is_off, lead_is_off):
    rows, noise = [], [0.0, 0.0, 0.0]
    cells = [f"{random.uniform(0, 9):.2f}" for _ in range(4096)]
    for second in range(86400):
        hour = second / 3600
        base = 12 + (3 if is_off else 20 * math.exp(-(((hour - 12) / 4) ** 2))) + (second // 900 * 7919 % 13) / 4
        volts, amperes, watts, vars_ = [], [], [], []
        for phase in range(3):
            noise[phase] = 0.95 * noise[phase] + random.gauss(0, 0.15)
            current = base * (0.9 + 0.1 * phase) + noise[phase]
            voltage = 231 - 0.06 * current + random.gauss(0, 0.1)
            if lead_is_off and phase == 1 and 36000 <= second < 50400:
                voltage *= 0.02
            volts.append(f"{voltage:.2f}")
            amperes.append(f"{current:.3f}")
            watts.append(f"{voltage * current * 0.95:.1f}")
            vars_.append(f"{voltage * current * 0.31:.1f}")
        first = second % 3900
        rows.append(f" {second // 3600:02d}:{second // 60 % 60:02d}:{second % 60:02d}," + ",".join(volts + amperes + watts + vars_ + cells[first:first + others]) + "\n")
    return rows


working, free, faulty = day(False, False), day(True, False), day(False, True)
with open(path, "w", buffering=1 << 20) as table:
    headings = [f"{letter}{phase} ({unit})" for letter, unit in (("V", "V"), ("I", "A"), ("P", "W"), ("Q", "var")) for phase in (1, 2, 3)]
    table.write("time," + ",".join(headings + [f"X{other}" for other in range(others)]) + "\n")
    date = datetime.date(2025, 1, 1)
    for number in range(days):
        rows = faulty if number == days // 2 else free if date.weekday() >= 5 else working
        table.write("".join([f"{date}{row}" for row in rows]))
        date += datetime.timedelta(days=1)
