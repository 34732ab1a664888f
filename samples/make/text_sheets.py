"""The sheets that are plain text: separated values in several encodings, fixed-width columns."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from .content import Row, Sheet


def _separated(rows: Iterable[list[str]], mark: str = ",") -> str:
    out = io.StringIO()
    csv.writer(out, delimiter=mark, lineterminator="\r\n").writerows(rows)
    return out.getvalue()


_EXCHANGE = [
    "OrganizationIdentifier", "ActivityIdentifier", "ActivityTypeCode", "ActivityMediaName",
    "ActivityStartDate", "ActivityStartTime/Time", "MonitoringLocationIdentifier",
    "ResultDetectionConditionText", "CharacteristicName", "ResultSampleFractionText",
    "ResultMeasureValue", "ResultMeasure/MeasureUnitCode", "MeasureQualifierCode",
    "MethodSpeciationName", "ResultAnalyticalMethod/MethodIdentifier", "LaboratoryName",
    "DetectionQuantitationLimitTypeName", "DetectionQuantitationLimitMeasure/MeasureValue",
    "DetectionQuantitationLimitMeasure/MeasureUnitCode",
]  # fmt: skip


def _exchange_line(sheet: Sheet, head: list[str], row: Row) -> list[str]:
    unit = row["unit"] if row["rl"] else ""
    kind = "Laboratory Reporting Level" if row["rl"] else ""
    species = f"as {row['basis']}" if row["basis"] else ""
    method = "200.8" if row["unit"] == "ug/L" else ""
    value = "" if row["condition"] else row["text"]
    return [
        *head, row["condition"], row["label"], row["printed_fraction"], value, row["unit"],
        row["qual"], species, method, sheet["lab"], kind, row["rl"], unit,
    ]  # fmt: skip


def make_exchange(sheet: Sheet) -> bytes:
    """Return a long export; the lines that are no samples of the well stand at the end."""
    lines = [_EXCHANGE]
    for i, sample in enumerate(sheet.samples):
        day, time = sample["collected"].split("T")
        head = ["TAMC", sample["id"], "Sample-Routine", "Water", day, f"{time}:00", sample["point"]]
        for j, row in enumerate(sample.rows):
            lines.append(_exchange_line(sheet, head, row))
            sheet.put(i, j, sheet="", cell=f"K{len(lines)}")
    blank = ["TAMC", "TAMC-FB:20260414:0900:FB", "Quality Control Sample-Field Blank"]
    blank += ["Water", "2026-04-14", "09:00:00", "TAMC-FB"]
    told = {"condition": "", "printed_fraction": "Dissolved", "qual": "", "basis": ""}
    arsenic = {"label": "Arsenic", "text": "0.7", "unit": "ug/L", "rl": "0.5"}
    iron = {"label": "Iron", "text": "9.6", "unit": "ug/L", "rl": "10"}
    lines.append(_exchange_line(sheet, blank, told | arsenic))
    blank[2] = "Quality Control Sample-Lab Blank"
    lines.append(_exchange_line(sheet, blank, told | iron))
    return _separated(lines).encode("utf-8-sig")


def make_metals(sheet: Sheet) -> bytes:
    """Return a short table with semicolons in Latin-1."""
    sample = sheet.samples[0]
    lines = [
        [sheet["lab"]], ["Report", sheet["report"]], ["Sample", sample["id"], sample["point"]],
        ["Collected", "06/18/2026"], [],
        ["Element", "Result (µg/L)", "Reporting limit", "Drinking water limit"],
    ]  # fmt: skip
    for j, row in enumerate(sample.rows):
        lines.append([row["label"], row["text"], row["rl"], row["limit"]])
        sheet.put(0, j, sheet="", cell=f"B{len(lines)}")
    return _separated(lines, ";").encode("latin-1")


def make_treated(sheet: Sheet) -> bytes:
    """Return two taps of one house, one line a result."""
    lines = [
        [sheet["lab"]],
        ["Report", sheet["report"]],
        ["Sample ID", "Sample Point", "Collected", "Parameter", "Result", "Units"],
    ]
    for i, sample in enumerate(sheet.samples):
        day = "/".join((*sample["collected"].split("-")[1:], sample["collected"][:4]))
        for j, row in enumerate(sample.rows):
            lines.append(
                [sample["id"], sample["point"], day, row["label"], row["text"], row["unit"]]
            )
            sheet.put(i, j, sheet="", cell=f"E{len(lines)}")
    return _separated(lines).encode()


def make_rounds(sheet: Sheet) -> bytes:
    """Return two rounds of one well with tabs in UTF-16."""
    lines = [["Order", "Station", "SampleDate", "Test", "Value", "Unit", "Price USD"]]
    prices = {"Nitrate-N": "12.50", "Turbidity": "9.00"}
    for i, sample in enumerate(sheet.samples):
        for j, row in enumerate(sample.rows):
            price = prices.get(row["label"], "15.00")
            head = [sample["id"], sample["point"], sample["collected"], row["label"]]
            lines.append([*head, row["text"], row["unit"], price])
            sheet.put(i, j, sheet="", cell=f"E{len(lines)}")
    return _separated(lines, "\t").encode("utf-16")


def make_fixed(sheet: Sheet) -> bytes:
    """Return the print file of an old system."""
    sample = sheet.samples[0]
    lines = [
        f"{sheet['lab'].upper():<60}PAGE   1",
        "WATER CHEMISTRY REPORT                    RUN 01/27/26 16:02",
        "",
        f"LAB NO   {sample['id']:<16}COLLECTED  01/19/26   RECEIVED 01/20/26",
        f"SOURCE   {sample['point']:<16}OWNER      HALLORAN T",
        "",
        f"{'TEST':<24}{'RESULT':>10}  {'UNITS':<12}{'LIMIT':>10}  FLAG",
        f"{'-' * 22:<24}{'-' * 10:>10}  {'-' * 10:<12}{'-' * 8:>10}  ----",
    ]
    for j, row in enumerate(sample.rows):
        line = f"{row['label']:<24}{row['text']:>10}  {row['unit']:<12}{row['limit']:>10}"
        lines.append(f"{line}  {row['flag']}".rstrip())
        column = line.index(row["text"], 24) + 1
        sheet.put(0, j, sheet="", cell=f"L{len(lines)}C{column}")
    lines += ["", "FLAG: HIGH OR LOW AGAINST THE LIMIT", "*** END OF REPORT ***", "\f"]
    return "\r\n".join(lines).encode("ascii")


def make_prices(sheet: Sheet) -> bytes:
    """Return a price list, which is no lab report."""
    lines = [
        [sheet["lab"], "Prices from January 2026"],
        ["Test", "Price (USD)", "Bottle (mL)", "Days", "Method"],
        ["Total coliform and E. coli", "32.00", "120", "2", "SM 9223 B"],
        ["Nitrate", "28.00", "250", "3", "EPA 300.0"],
        ["Lead", "24.00", "250", "10", "EPA 200.8"],
        ["Arsenic", "24.00", "250", "10", "EPA 200.8"],
        ["Hardness", "18.00", "250", "5", "SM 2340 B"],
        ["pH", "8.00", "120", "1", "SM 4500-H+ B"],
        ["PFAS (25 compounds)", "310.00", "500", "20", "EPA 533"],
        ["Courier within Tamarack County", "15.50", "", "", ""],
    ]
    return _separated(lines).encode()
