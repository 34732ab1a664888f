"""The sheets that typst sets, one template each."""

from __future__ import annotations

from . import press
from .content import HERE, Sheet

NAMES = (
    "clean-well", "nitrate-bacteria", "stacked-heads", "bacteria-slip", "decimal-comma",
    "page-break", "pump-invoice",
)  # fmt: skip


def _data(sheet: Sheet) -> dict[str, object]:
    samples = [sample.given | {"rows": sample.rows} for sample in sheet.samples]
    return {"lab": sheet["lab"], "report": sheet["report"], "samples": samples}


def make(sheet: Sheet) -> bytes:
    """Return the PDF that the sheet's template gives."""
    source = (HERE / "typst" / f"{sheet.name}.typ").read_text(encoding="utf-8")
    return press.typst_pdf(source, _data(sheet))


def make_truncated(sheet: Sheet) -> bytes:
    """Return the first half of a sheet's file."""
    whole = make(sheet)
    return whole[: len(whole) // 2]
