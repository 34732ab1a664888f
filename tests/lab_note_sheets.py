"""Invented sheets of labs with words of their own, and the notes to them."""

from __future__ import annotations

from pathlib import Path

import openpyxl
from reportlab.pdfgen.canvas import Canvas

from welltold.reading import Reading

ROOT = Path(__file__).parents[1]
LABS = ROOT / "samples" / "labs"
SHEETS = ROOT / "samples" / "sheets"
BRINDLE = LABS / "brindle-brook.csv"


def quillon_sheet(path: Path) -> Path:
    """Draw the sheet of a lab that writes decimal commas, stacked heads and flags of its own."""
    canvas = Canvas(str(path), pagesize=(595, 842))

    def line(y: float, *cells: tuple[float, str]) -> None:
        canvas.setFont("Helvetica", 10)
        for x, text in cells:
            canvas.drawString(x, 842 - y, text)

    line(60, (60, "Quillon Test House"))
    line(90, (60, "Btl: Q-7713"), (300, "Tkn: 03/04/2026"))
    line(106, (60, "Spot: Kitchen tap"))
    line(140, (250, "Rpt"))
    line(152, (60, "Dtmn"), (160, "Fnd"), (250, "Lmt"), (330, "Ms."), (400, "Vgl."))
    rows = """Nitrate|4,20|0,10|mg p. L|3,9
Iron|e 0,35|0,05|mg p. L|0,4
Manganese|0,005#|0,005|mg p. L|0,006
Chloride|31|1|mg p. L|30
Tot. Hd.|182|5|mg p. L|181
Arsenic|2,1|0,5|mcg p. L|2,0"""
    for at, row in enumerate(rows.splitlines()):
        line(170 + 15 * at, *zip((60, 160, 250, 330, 400), row.split("|"), strict=True))
    line(280, (60, "Check water of the house"))
    line(295, (60, "Nitrate"), (160, "10,1"), (250, "0,10"), (330, "mg p. L"))
    line(325, (60, "End of check"))
    line(340, (60, "Courier box 4,5 deg"))
    canvas.save()
    return path


def marl_sheet(path: Path) -> Path:
    """Write the workbook of a lab that has codes for tests and names no unit."""
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in (
        ["Marl Point Assay Rooms"],
        [],
        ["Btl", "Spot", "Tkn", "NO3X", "FEX", "HDT", "CLX", "Wt"],
        ["M-1", "Well 1", "2026-05-02", 4.2, 0.35, 182, 31, 250],
        ["M-2", "Well 2", "2026-05-02", 1.1, "z 0.02", 140, 12, 250],
        ["M-3", "Well 3", "2026-05-03", 0.6, 0.11, 95, 8, 250],
    ):
        sheet.append(row)
    book.save(path)
    return path


def note_in(folder: Path, text: str, name: str = "lab.toml") -> Path:
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, "utf-8")
    return folder


def sure(reading: Reading) -> list[object]:
    """What is used as it is."""
    return [r for r in reading.results if r.use == "as_is"]
