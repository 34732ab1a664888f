"""Makes every sheet and its expected reading: ``python -m samples.make.all [NAME ...]``."""

from __future__ import annotations

import re
import sys

from . import content, makers

_TABLE = re.compile(r"(\|---\|---\|---\|---\|\n).*?(?=\n\n)", re.DOTALL)


def _list_sheets() -> None:
    """Write the table of all sheets into the read-me."""
    read_me = content.SHEETS.parent / "README.md"
    lines = []
    for name in content.names():
        sheet = content.load(name)
        cells = [str(sheet[key]) for key in ("file", "producer", "layout", "purpose")]
        lines.append("| " + " | ".join(cells) + " |")
    table = "\n".join(lines).replace("\\", r"\\")
    text = _TABLE.sub(rf"\g<1>{table}", read_me.read_text(encoding="utf-8"), count=1)
    read_me.write_text(text, encoding="utf-8")


def main(wanted: list[str]) -> None:
    """Write the sheets named, or all of them."""
    for name in wanted or content.names():
        sheet = content.load(name)
        made = makers.make(sheet)
        sheet.path.write_bytes(made)
        content.write_expected(sheet)
        print(f"{sheet.path.name:28} {len(made):7} bytes")
    _list_sheets()


if __name__ == "__main__":
    main(sys.argv[1:])
