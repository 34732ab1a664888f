"""Spreadsheet names of places: column 28 of row 3 is AB3. Rows and columns count from 1."""

from __future__ import annotations

from functools import cache, lru_cache


@lru_cache(maxsize=512)
def letters(column: int) -> str:
    """Return the letters of a column: 1 is A, 27 is AA."""
    name = ""
    while column:
        column, rest = divmod(column - 1, 26)
        name = chr(ord("A") + rest) + name
    return name


def address(row: int, column: int) -> str:
    """Return the spreadsheet name of a place: (3, 28) is AB3."""
    return f"{letters(column)}{row}"


def place(name: str) -> tuple[int, int] | None:
    """Return row and column of an address such as AB3, None if it is none."""
    letters = name.rstrip("0123456789")
    digits = name[len(letters) :]
    found = column(letters)
    return (int(digits), found) if found and 0 < len(digits) < 8 else None


@cache
def column(letters: str) -> int:
    """Return the number of a column such as AB, 0 if there is none such."""
    if not 0 < len(letters) < 4:
        return 0
    number = 0
    for letter in letters.upper():
        if not "A" <= letter <= "Z":
            return 0
        number = number * 26 + ord(letter) - ord("A") + 1
    return number
