"""Figures of the interval files in tests/data/interval, by numpy alone, written beside this script as expected.json.

Run with Debian's python3 and python3-numpy: /usr/bin/python3 tests/vectors/study/interval_figures.py
It shares no code with the product: the files are read with the csv module and the sums are numpy's.
"""
import csv, json, os, datetime as dt
import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))
DATA = os.path.join(HERE, "../../data/interval")


def steel():
    with open(os.path.join(DATA, "steel-15min-2018-jan-jun.csv"), encoding="utf-8-sig", newline="") as file:
        rows = list(csv.DictReader(file))
    stamps = [dt.datetime.strptime(row["date"], "%d/%m/%Y %H:%M") for row in rows]
    kwh = np.array([float(row["Usage_kWh"]) for row in rows])
    lag = np.array([float(row["Lagging_Current_Reactive_Power_kVarh"]) for row in rows])
    lead = np.array([float(row["Leading_Current_Reactive_Power_kVarh"]) for row in rows])
    # Rows follow each other by 15 minutes in the order of the file; the first is stamped 00:15.
    starts = np.array([dt.datetime(2018, 1, 1) + dt.timedelta(minutes=15 * i) for i in range(len(rows))])
    assert all(s.time() == (t + dt.timedelta(minutes=15)).time() for s, t in zip(stamps, starts))
    kw = 4 * kwh
    blocks30 = kwh.reshape(-1, 2).sum(axis=1) * 2
    slide30 = np.convolve(kwh, [1, 1], "valid") * 2
    months = {m: float(kwh[[s.month == m for s in starts]].sum()) for m in range(1, 7)}
    open_hours = np.array([s.weekday() < 5 and 8 <= s.hour < 18 for s in starts])
    days = kw.reshape(-1, 96)
    return {
        "kwh": float(kwh.sum()), "lagging_kvarh": float(lag.sum()), "leading_kvarh": float(lead.sum()),
        "peak15_kw": float(kw.max()), "peak15_from": starts[kw.argmax()].isoformat(),
        "peak30_block_kw": float(blocks30.max()), "peak30_block_from": starts[2 * blocks30.argmax()].isoformat(),
        "peak30_sliding_kw": float(slide30.max()), "peak30_sliding_from": starts[slide30.argmax()].isoformat(),
        "load_factor": float(kw.mean() / kw.max()), "months_kwh": months,
        "closed_kwh": float(kwh[~open_hours].sum()),
        "base_kw": float(np.percentile(days, 2.5, axis=1).mean()), "near_peak_kw": float(np.percentile(days, 97.5, axis=1).mean()),
        "median_kw": float(np.percentile(kw, 50)),
        "first_day_hour_10_kw": float(kw[40:44].mean()),
    }


def household():
    with open(os.path.join(DATA, "household-1min-2007-02-01.csv"), encoding="utf-8-sig") as file:
        rows = list(csv.DictReader(file, delimiter=";"))
    kw = np.array([float(row["Global_active_power"]) for row in rows])
    kvar = np.array([float(row["Global_reactive_power"]) for row in rows])
    volts = np.array([float(row["Voltage"]) for row in rows])
    result = {
        "kwh": float(kw.sum() / 60), "kvarh": float(kvar.sum() / 60), "peak_minute_kw": float(kw.max()), "mean_volts": float(volts.mean()),
        "least_volts": float(volts.min()), "most_volts": float(volts.max()), "p5_volts": float(np.percentile(volts, 5)), "p95_volts": float(np.percentile(volts, 95)),
    }
    for minutes in (5, 15, 30, 60):
        blocks = kw.reshape(-1, minutes).mean(axis=1)
        slide = np.convolve(kw, np.ones(minutes) / minutes, "valid")
        result[f"block{minutes}_kw"], result[f"block{minutes}_row"] = float(blocks.max()), int(blocks.argmax() * minutes)
        result[f"sliding{minutes}_kw"], result[f"sliding{minutes}_row"] = float(slide.max()), int(slide.argmax())
        result[f"load_factor{minutes}"] = float(blocks.mean() / blocks.max())
    return result


with open(os.path.join(HERE, "expected.json"), "w") as file:
    json.dump({"steel": steel(), "household": household()}, file, indent=1)
    file.write("\n")
