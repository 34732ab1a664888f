"""The sheets that reportlab draws, word by word."""

from __future__ import annotations

import io
from collections.abc import Sequence
from typing import Any

from reportlab.lib.colors import HexColor, black, white
from reportlab.lib.pagesizes import landscape, letter
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from .content import Sheet

_WIDTH, _HEIGHT = letter


class Page:
    """A canvas whose lines are counted from the top."""

    def __init__(self, size: tuple[float, float] = letter) -> None:
        self.out = io.BytesIO()
        self.canvas = Canvas(self.out, pagesize=size, invariant=1)
        self.height = size[1]
        self.font("Helvetica", 9)

    def font(self, name: str, size: float) -> None:
        self.face = (name, size)
        self.canvas.setFont(name, size)

    def put(self, x: float, down: float, text: str, side: str = "left") -> None:
        y = self.height - down
        if side == "right":
            self.canvas.drawRightString(x, y, text)
        elif side == "middle":
            self.canvas.drawCentredString(x, y, text)
        else:
            self.canvas.drawString(x, y, text)

    def line(self, down: float, cells: Sequence[tuple[float, str, str]]) -> None:
        for x, side, text in cells:
            self.put(x, down, text, side)

    def rule(self, x: float, down: float, to: float, width: float = 0.5) -> None:
        self.canvas.setLineWidth(width)
        self.canvas.line(x, self.height - down, to, self.height - down)

    def next(self) -> None:
        self.canvas.showPage()
        self.canvas.setFont(*self.face)

    def done(self) -> bytes:
        self.canvas.save()
        return self.out.getvalue()


def make_consumer(sheet: Sheet) -> bytes:
    """Return a sheet for the household: goal and range stand before the result."""
    page, sample = Page(), sheet.samples[0]
    page.canvas.setFillColor(HexColor("#2d6a4f"))
    page.canvas.rect(0, _HEIGHT - 70, _WIDTH, 70, stroke=0, fill=1)
    page.canvas.setFillColor(white)
    page.font("Times-Bold", 20)
    page.put(40, 44, sheet["lab"])
    page.canvas.setFillColor(black)
    page.font("Helvetica", 9)
    page.put(40, 88, f"Order {sheet['report']}     Sample point: {sample['point']}")
    page.put(40, 102, "Collected: 04/02/2026     Received: 04/03/2026     Printed: 04/08/2026")
    columns = (
        (40, "left"),
        (200, "left"),
        (270, "left"),
        (425, "right"),
        (435, "left"),
        (500, "left"),
    )
    down, group = 130.0, ""
    page.font("Helvetica-Bold", 9)
    heads = ("Test", "Goal", "Typical range here", "Your result", "", "Rating")
    page.line(down, [(x, s, t) for (x, s), t in zip(columns, heads, strict=True)])
    page.rule(40, down + 4, 570, 1.2)
    for row in sample.rows:
        if row["group"] != group:
            group = row["group"]
            down += 24
            page.font("Helvetica-Bold", 10)
            page.put(40, down, group)
        down += 17
        page.font("Helvetica", 9)
        cells = [row["label"], row["goal"], row["range"], row["text"], row["unit"], row["status"]]
        page.line(down, [(x, s, t) for (x, s), t in zip(columns, cells, strict=True)])
        tone = "#c1121f" if "igh" in row["status"] or "hard" in row["status"] else "#2d6a4f"
        page.canvas.setFillColor(HexColor(tone))
        page.canvas.circle(490, _HEIGHT - down + 3, 4, stroke=0, fill=1)
        page.canvas.setFillColor(black)
    page.put(40, down + 40, "Your hardness of 357 mg/L as CaCO3 is 20.9 grains per gallon.")
    return page.done()


def make_card(sheet: Sheet) -> bytes:
    """Return a postcard with dot leaders."""
    page, sample = Page((432, 288)), sheet.samples[0]
    page.canvas.roundRect(8, 8, 416, 272, 10)
    page.font("Courier-Bold", 12)
    page.put(24, 32, sheet["lab"])
    page.font("Courier", 10)
    page.put(24, 50, f"{sheet['report']}   Bottle no. 7   Sampled 2/27/26")
    page.put(24, 64, f"Tap: {sample['point']}")
    for j, row in enumerate(sample.rows):
        dots = "." * (28 - len(row["label"]))
        page.put(24, 92 + 17 * j, f"{row['label']} {dots} {row['text']} {row['unit']}")
    page.font("Courier-Oblique", 8)
    page.put(24, 250, "ND = less than 0.1 ppm. Screening test, not a certified analysis.")
    return page.done()


def make_volatiles(sheet: Sheet) -> bytes:
    """Return one list in two tables side by side."""
    page, sample = Page(), sheet.samples[0]
    page.font("Times-Bold", 15)
    page.put(306, 50, sheet["lab"], "middle")
    page.font("Times-Roman", 10)
    page.put(306, 66, "Volatile Organic Compounds by EPA 524.2", "middle")
    page.put(45, 92, f"Lab sample: {sample['id']}")
    page.put(45, 106, f"Client's sample: {sample['point']}")
    page.put(330, 92, "Collected: 22 Sep 2026 15:05")
    page.put(330, 106, "Analyzed: 29 Sep 2026     Units: ug/L")
    half = len(sample.rows) // 2
    for side, rows in enumerate((sample.rows[:half], sample.rows[half:])):
        x = 45 + side * 275
        page.canvas.rect(x - 5, _HEIGHT - 132 - 18 * len(rows), 262, 18 * len(rows) + 10)
        page.font("Times-Bold", 9.5)
        page.line(134, [(x, "left", "Compound"), (x + 195, "right", "Result")])
        page.put(x + 245, 134, "RL", "right")
        page.rule(x - 5, 138, x + 257)
        page.font("Times-Roman", 9.5)
        for j, row in enumerate(rows):
            cells = [(x, "left", row["label"]), (x + 195, "right", row["text"])]
            page.line(151 + 17.5 * j, [*cells, (x + 245, "right", row["rl"])])
    down = 151 + 17.5 * half + 25
    page.put(45, down, "Surrogate recovery: Bromofluorobenzene 98 %, Dichlorobenzene-d4 103 %")
    page.put(45, down + 14, "ND: not detected at the reporting limit (RL).")
    return page.done()


def make_activity(sheet: Sheet) -> bytes:
    """Return radionuclides with what the counting leaves open."""
    page, sample = Page(), sheet.samples[0]
    page.font("Helvetica-Bold", 14)
    page.put(50, 56, f"{sheet['lab']}   RADIOCHEMISTRY")
    page.font("Helvetica", 9.5)
    page.put(50, 80, f"Report {sheet['report']}   Sample {sample['id']}   {sample['point']}")
    page.put(50, 94, "Date/time collected: 10/12/2026 14:00     Date received: 10/13/2026")
    columns = (
        (50, "left"),
        (290, "right"),
        (340, "right"),
        (360, "left"),
        (440, "left"),
        (520, "left"),
    )
    heads = ("Radionuclide", "Activity ± 2s", "MDA", "Units", "Method", "Counted")
    page.rule(50, 108, 565, 1)
    page.font("Helvetica-Bold", 9.5)
    page.line(120, [(x, s, t) for (x, s), t in zip(columns, heads, strict=True)])
    page.rule(50, 125, 565)
    page.font("Helvetica", 9.5)
    for j, row in enumerate(sample.rows):
        cells = (row["label"], row["text"], row["rl"], row["unit"], row["method"], "10/19/26")
        line = [(x, s, t) for (x, s), t in zip(columns, cells, strict=True)]
        page.line(141 + 18 * j, line)
    page.rule(50, 146 + 18 * (len(sample.rows) - 1), 565, 1)
    page.put(50, 280, "MDA: minimum detectable activity. Gross alpha includes uranium and radium.")
    return page.done()


def make_turned(sheet: Sheet) -> bytes:
    """Return a landscape table that lies on its side in the file and is turned to be seen."""
    wide, _ = landscape(letter)
    page, sample = Page(landscape(letter)), sheet.samples[0]  # turning swaps the sides
    canvas: Any = page.canvas
    canvas.setPageRotation(90)
    canvas.translate(_WIDTH, 0)
    canvas.rotate(90)
    page.height = _WIDTH
    page.font("Helvetica-Bold", 15)
    page.put(50, 55, f"{sheet['lab']}: irrigation and stock water")
    page.font("Helvetica", 11)
    page.put(50, 78, f"Sample {sample['id']}, {sample['point']}")
    page.put(wide - 50, 78, "Sampled May 29, 2026", "right")
    columns = (
        (50, "left"),
        (330, "right"),
        (345, "left"),
        (480, "right"),
        (500, "left"),
        (620, "left"),
    )
    page.font("Helvetica-Bold", 11)
    heads = ("Constituent", "Result", "Unit", "meq/L", "", "Rating")
    page.line(110, [(x, s, t) for (x, s), t in zip(columns, heads, strict=True)])
    page.rule(50, 116, wide - 50, 1)
    page.font("Helvetica", 11)
    for j, row in enumerate(sample.rows):
        cells = (row["label"], row["text"], row["unit"], row["meq"], "", row["rating"])
        page.line(136 + 24 * j, [(x, s, t) for (x, s), t in zip(columns, cells, strict=True)])
        page.rule(50, 143 + 24 * j, wide - 50, 0.2)
    width = pdfmetrics.stringWidth("Page 1", "Helvetica", 11)
    page.put(wide - 50 - width, 560, "Page 1")
    return page.done()
