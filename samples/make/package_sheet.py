"""The full package: result pages, a quality-control page that looks like them, custody."""

from __future__ import annotations

from .canvas_sheets import Page
from .content import Bottle, Row, Sheet

_COLUMNS = (
    (45, "left"),
    (235, "right"),
    (245, "left"),
    (310, "right"),
    (360, "right"),
    (385, "right"),
    (400, "left"),
    (450, "left"),
    (520, "left"),
)
_HEADS = ("Analyte", "Result", "Qual", "RL", "MDL", "DF", "Units", "Method", "Analyzed")

_CONTROLS = (
    ("Method Blank  B26I0912-BLK1", (("Arsenic", "0.0003", "J"), ("Lead", "0.0010", "U"))),
    ("Laboratory Control Sample  BS1", (("Arsenic", "0.0492", ""), ("Lead", "0.0511", ""))),
    ("Duplicate  Source: HG-44120-02", (("Arsenic", "0.0189", ""), ("Lead", "0.0032", ""))),
)  # fmt: skip


def _line(page: Page, down: float, cells: tuple[str, ...]) -> None:
    page.line(down, [(x, s, t) for (x, s), t in zip(_COLUMNS, cells, strict=True)])


def _top(page: Page, sheet: Sheet, number: int, title: str) -> None:
    page.font("Helvetica-Bold", 13)
    page.put(45, 45, sheet["lab"])
    page.font("Helvetica", 8.5)
    page.put(567, 45, f"Work order {sheet['report']}", "right")
    page.put(45, 60, "Client: Tamarack Orchard Cooperative   Project: domestic wells, September")
    page.rule(45, 66, 567, 1)
    page.font("Helvetica-Bold", 11)
    page.put(306, 84, title, "middle")
    page.font("Helvetica", 8.5)
    page.put(306, 770, f"Page {number} of 5", "middle")


def _heads(page: Page, down: float) -> None:
    page.font("Helvetica-Bold", 8.5)
    _line(page, down, _HEADS)
    page.rule(45, down + 4, 567)
    page.font("Helvetica", 8.5)


def _cells(row: Row) -> tuple[str, ...]:
    first = (row["label"], row["text"], row["qual"], row["rl"], row["mdl"], row["df"])
    return (*first, row["unit"], row["method"], "09/14/26")


def _sample_page(page: Page, sheet: Sheet, sample: Bottle, number: int) -> None:
    _top(page, sheet, number, "Analytical Results")
    time = sample["collected"].split("T")[1]
    page.put(45, 106, f"Client Sample ID: {sample['point']}")
    page.put(45, 119, f"Lab Sample ID: {sample['id']}")
    page.put(330, 106, f"Date/Time Collected: 09/08/2026 {time}")
    page.put(330, 119, "Date/Time Received: 09/08/2026 16:20    Matrix: Drinking Water")
    _heads(page, 142)
    down, section = 142.0, ""
    for row in sample.rows:
        if row["section"] != section:
            section = row["section"]
            down += 22
            page.font("Helvetica-BoldOblique", 9)
            page.put(45, down, section)
            page.font("Helvetica", 8.5)
        down += 15
        _line(page, down, _cells(row))
    page.next()


def _control_page(page: Page, sheet: Sheet) -> None:
    _top(page, sheet, 4, "Quality Control")
    _heads(page, 112)
    down = 112.0
    for title, rows in _CONTROLS:
        down += 26
        page.font("Helvetica-BoldOblique", 9)
        page.put(45, down, title)
        page.font("Helvetica", 8.5)
        for label, text, flag in rows:
            down += 15
            _line(page, down, (label, text, flag, "0.0010", "0.0002", "1", "mg/L", "200.8", ""))
    down += 40
    for text in ("Spike level 0.0500   Recovery: Arsenic 98.4 %, Lead 102 %   Limits 85-115",
                 "RPD: Arsenic 1.1 %, Lead 3.1 %   Limit 20",
                 "U: not detected at the reporting limit shown as the result.",
                 "J: estimated, below the reporting limit."):  # fmt: skip
        page.put(45, down, text)
        down += 14
    page.next()


def _custody_page(page: Page, sheet: Sheet) -> None:
    _top(page, sheet, 5, "Chain of Custody")
    for i, sample in enumerate(sheet.samples):
        time = sample["collected"].split("T")[1]
        line = f"{i + 1}   {sample['point']:<14}  09/08/2026  {time}   DW   3 bottles"
        page.put(330, 130 + 22 * i, "200.8, 300.0, 5310C")
        page.put(60, 130 + 22 * i, line)
        page.rule(55, 136 + 22 * i, 560, 0.3)
    page.put(60, 230, "Relinquished by: K. Asher   09/08/2026 15:40")
    page.put(60, 250, "Received by: lab, 16:20     Temperature on arrival 3.4 °C     pH < 2: yes")


def make(sheet: Sheet) -> bytes:
    """Return the five pages."""
    page = Page()
    for number, sample in enumerate(sheet.samples, 1):
        _sample_page(page, sheet, sample, number)
    _control_page(page, sheet)
    _custody_page(page, sheet)
    return page.done()
