"""Shows where each value of a reading stands on its sheet: pages, tables or text with frames.

    from welltold_parsers.showing import show, write_index

    page = show(reading, Path("sheet.pdf"), Path("shown"), "sheet")

Works from the reading and its file alone, so also from a reading that was saved or corrected.
"""

from .files import show, write_index

__all__ = ["show", "write_index"]
