"""How large a file may be before it is refused.

The numbers are generous for a lab sheet and small enough that one file cannot exhaust an ordinary
machine. Each can be raised for one call: ``Limits(pages=2500)``.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Limits:
    """What a single file may ask of the machine; every field is a count and can be changed."""

    file_bytes: int = 200_000_000
    """Bytes of the file as it lies on disk."""
    pages: int = 500
    """Pages of a PDF or of a text file with form feeds. Full packages of a laboratory have 10 to
    40; yearly summaries some hundred."""
    words: int = 100_000
    """Words on one page. The fullest printed page known has about 20,000."""
    pixels: int = 150_000_000
    """Pixels of one picture. A phone's largest have 108 million."""
    cells: int = 2_000_000
    """Cells that are not empty, in all sheets of a workbook or in a separated file."""
    unzipped: int = 300_000_000
    """Bytes of a workbook's parts after unpacking, so that a small file cannot unfold into a
    huge one."""
    columns: int = 16_384
    """The last column of a table that may hold something; spreadsheet programs have no more."""
    cell_characters: int = 100_000
    """Characters in one cell. Spreadsheet programs hold up to 32,767; a longer one in a separated
    file is a lost quotation mark."""
    characters: int = 30_000_000
    """Characters in all cells; a text that many cells share counts in each of them."""
    long_characters: int = 2_000_000
    """Characters beyond the first 200 of a cell, in all cells: it takes some seconds to look for
    results in so much running text."""
    repeats: int = 5_000_000
    """Steps over cells that are only repeated, hidden or covered by others."""
