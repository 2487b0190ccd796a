"""Writes week.xlsx, an invented log, with openpyxl (Debian's python3-openpyxl 3.0.9): /usr/bin/python3 write_by_openpyxl.py

A cover sheet, a title over merged cells, two rows of headings with groups over merged cells, a row of units, dates as numbers of days with a format, a total below.
"""
from datetime import datetime, timedelta

import openpyxl

book = openpyxl.Workbook()
book.active.title = "Cover"
book.active["A1"] = "Invented recorder"
sheet = book.create_sheet("Trend")
sheet.merge_cells("A1:H1")
sheet["A1"] = "Trend of all quantities"
for cells, text in (("B2:D2", "Voltage"), ("E2:G2", "Current")):
    sheet.merge_cells(cells)
    sheet[cells.split(":")[0]] = text
sheet.append(["Time", "L1", "L2", "L3", "L1", "L2", "L3", "P total"])
sheet.append(["", "V", "V", "V", "A", "A", "A", "kW"])
for row in range(96):
    volts = [230 + row % 5 + phase * 0.25 for phase in range(3)]
    amperes = [40 + row % 7 + phase * 0.5 for phase in range(3)]
    watts = 0.9 * sum(v * a for v, a in zip(volts, amperes))
    sheet.append([datetime(2026, 3, 2) + timedelta(minutes=15 * row), *volts, *amperes, watts / 1000])
sheet.append(["Total", None, None, None, None, None, None, 1234.5])
events = book.create_sheet("Events")
events.append(["Time", "Kind"])
events.append([datetime(2026, 3, 2), "dip"])
book.save("week.xlsx")
