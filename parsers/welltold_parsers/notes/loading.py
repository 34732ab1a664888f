"""Reads lab notes strictly: a word that is not known is an error with its line."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from welltold.analytes import analyte, identify, registry
from welltold.errors import FileMissingError, LabNoteError, UnknownAnalyteError
from welltold.own_text import near, told
from welltold.units import basis_of, unit

from .note import IGNORE, NO_MEANING, UNKNOWN, Note, Part, flag_meanings, plain, roles

SECTIONS = ("lab", "sheet", "headings", "units", "labels", "flags", "basis", "ignore")
LAB_KEYS = ("name", "phrases", "without")
SHEET_KEYS = ("date_order", "decimal_comma", "default_unit")
IGNORE_KEYS = ("lines", "parts")
ORDERS = {"day_first": True, "month_first": False}
_SHORTEST = 3


def load_notes(folder: Path) -> tuple[Note, ...]:
    """Return the lab notes in a folder in order of name; FileMissingError, LabNoteError."""
    if not folder.is_dir():
        raise FileMissingError(str(folder), "no such folder")
    return tuple(load_note(path) for path in sorted(folder.glob("*.toml")))


def load_note(path: Path) -> Note:
    """Return one lab note; FileMissingError, LabNoteError with the line."""
    try:
        facts = path.stat()
        return _kept(str(path), facts.st_mtime_ns, facts.st_size)
    except OSError as error:
        raise FileMissingError(str(path), error.strerror or "unreadable") from None


@lru_cache(maxsize=256)
def _kept(path: str, _changed: int, _size: int) -> Note:
    listed = ", ".join(f"[{name}]" for name in SECTIONS)
    try:
        text = Path(path).read_text("utf-8-sig")
        return _Reader(path, text).note(tomllib.loads(text))
    except UnicodeDecodeError:
        raise LabNoteError(path, told("the_file"), told("not_text"), listed) from None
    except tomllib.TOMLDecodeError as error:
        raise LabNoteError(path, "TOML", told("toml", problem=error), listed) from None


@dataclass(frozen=True, slots=True)
class _Reader:
    """Turns one parsed file into a note; knows its lines for the complaints."""

    path: str
    text: str

    def note(self, raw: Mapping[str, object]) -> Note:
        self._only("", raw, SECTIONS)
        lab, sheet = self._section(raw, "lab", LAB_KEYS), self._section(raw, "sheet", SHEET_KEYS)
        ignore = self._section(raw, "ignore", IGNORE_KEYS)
        name = lab.get("name")
        if not isinstance(name, str) or not name.strip():
            raise self._wrong("lab", "name", told("not_line"), told("want_lab"))
        phrases = self._texts(lab, "lab", "phrases")
        if not phrases:
            raise self._wrong("lab", "phrases", told("missing"), told("want_phrases"))
        return Note(
            path=self.path,
            lab=name.strip(),
            phrases=phrases,
            without=self._texts(lab, "lab", "without"),
            day_first=self._order(sheet),
            decimal_comma=self._comma(sheet),
            default_unit=self._default_unit(sheet),
            basis=self._words(raw, "basis", self._basis),
            headings=self._words(raw, "headings", self._role),
            units=self._words(raw, "units", self._unit, exact=True),
            labels=self._words(raw, "labels", self._label),
            flags=self._words(raw, "flags", self._flag, exact=True),
            ignored_lines=self._texts(ignore, "ignore", "lines"),
            ignored_parts=self._parts(ignore),
        )

    def _role(self, key: str, value: str) -> str:
        return self._one_of("headings", key, value, roles())

    def _unit(self, key: str, value: str) -> str:
        if unit(value) is None:
            known = told("want_spellings", example="mg/L, ug/L, gpg, SU")
            raise self._wrong("units", key, told("unknown_unit", unit=value), known)
        return value

    def _label(self, key: str, value: str) -> str:
        """Return the plain name: "nitrate" by its short name, or more, as in "Nitrate as NO3"."""
        match = identify(value, fuzzy=False)
        if value == IGNORE or (match is not None and value not in registry()):
            return value
        return analyte(self._slug("labels", key, value)).name

    def _flag(self, key: str, value: str) -> str:
        return self._one_of("flags", key, value, (*flag_meanings(), NO_MEANING))

    def _basis(self, key: str, value: str) -> str:
        slug = self._slug("basis", key, key)
        known = analyte(slug).bases
        if basis_of(value) not in known:
            problem = told("not_basis", value=value, slug=slug)
            raise self._wrong("basis", key, problem, ", ".join(known) or told("no_basis"))
        return basis_of(value) or value

    def _slug(self, section: str, key: str, value: str) -> str:
        if value in registry():
            return value
        match = identify(value, fuzzy=False)
        if match is not None:
            return match.slug
        try:
            return analyte(value).slug
        except UnknownAnalyteError as error:
            nearest = str(error.args[1])
            raise self._wrong(section, key, told("not_analyte", value=value), nearest) from None

    def _one_of(self, section: str, key: str, value: str, known: Iterable[str]) -> str:
        listed = (*known, UNKNOWN)
        if value not in listed:
            problem = told("unknown_here", value=f'"{value}"', near=near(value, listed))
            raise self._wrong(section, key, problem, ", ".join(listed))
        return value

    def _words(
        self,
        raw: Mapping[str, object],
        section: str,
        meaning: Callable[[str, str], str],
        *,
        exact: bool = False,
    ) -> Mapping[str, str]:
        """Return a section of words and meanings; what is "unknown" is left out."""
        found: dict[str, str] = {}
        for key, value in self._table(raw, section).items():
            if not isinstance(value, str) or not value.strip() or not key.strip():
                raise self._wrong(section, key, told("not_word"), '"WORD" = "MEANING"')
            kept = " ".join(key.split()) if exact else plain(key)
            if kept in found:
                raise self._wrong(section, key, told("stands_twice"), told("one_line"))
            if value != UNKNOWN:
                found[kept] = meaning(key, value.strip())
        if section == "basis":
            return {self._slug(section, key, key): value for key, value in found.items()}
        return found

    def _order(self, sheet: Mapping[str, object]) -> bool | None:
        value = sheet.get("date_order")
        if value is None or value == UNKNOWN:
            return None
        if not isinstance(value, str) or value not in ORDERS:
            problem = told("no_order", near=near(str(value), ORDERS))
            raise self._wrong("sheet", "date_order", problem, ", ".join(ORDERS))
        return ORDERS[value]

    def _comma(self, sheet: Mapping[str, object]) -> bool | None:
        value = sheet.get("decimal_comma")
        if value is not None and not isinstance(value, bool):
            raise self._wrong("sheet", "decimal_comma", told("not_yes_or_no"), "true, false")
        return value

    def _default_unit(self, sheet: Mapping[str, object]) -> str | None:
        value = sheet.get("default_unit")
        if value is None or value == UNKNOWN:
            return None
        if not isinstance(value, str) or unit(value) is None:
            known = told("want_spellings", example="mg/L, ug/L")
            raise self._wrong("sheet", "default_unit", told("not_unit"), known)
        return value

    def _texts(self, table: Mapping[str, object], section: str, key: str) -> tuple[str, ...]:
        value = table.get(key, [])
        if not isinstance(value, list) or not all(isinstance(v, str) for v in value):
            raise self._wrong(section, key, told("not_words"), '["one", "another"]')
        if any(len(plain(v)) < _SHORTEST for v in value):
            problem = told("too_short", least=_SHORTEST)
            raise self._wrong(section, key, problem, told("longer"))
        return tuple(plain(v) for v in value)

    def _parts(self, ignore: Mapping[str, object]) -> tuple[Part, ...]:
        value = ignore.get("parts", [])
        form = '[{ from = "first line", to = "the line behind" }]'
        if not isinstance(value, list):
            raise self._wrong("ignore", "parts", told("not_list"), form)
        found = []
        for part in value:
            good = isinstance(part, dict) and all(isinstance(v, str) for v in part.values())
            if not good or not part.get("from") or not set(part) <= {"from", "to"}:
                raise self._wrong("ignore", "parts", told("not_parts"), form)
            found.append(Part(plain(part["from"]), plain(part["to"]) if part.get("to") else None))
        return tuple(found)

    def _section(
        self, raw: Mapping[str, object], name: str, known: Iterable[str]
    ) -> Mapping[str, object]:
        table = self._table(raw, name)
        self._only(name, table, known)
        return table

    def _table(self, raw: Mapping[str, object], name: str) -> Mapping[str, object]:
        table = raw.get(name, {})
        if not isinstance(table, dict):
            raise self._wrong("", name, told("no_section"), f"[{name}]")
        return table

    def _only(self, section: str, table: Mapping[str, object], known: Iterable[str]) -> None:
        for key in table:
            if key not in known:
                problem = told("unknown_name", near=near(key, known))
                raise self._wrong(section, key, problem, ", ".join(known))

    def _wrong(self, section: str, key: str, problem: str, known: str) -> LabNoteError:
        line = line_of(self.text, section, key)
        inside = f"[{section}] " if section else ""
        place = told("line_key", line=line, key=f"{inside}{key}")
        return LabNoteError(self.path, place, problem, known)


def line_of(text: str, section: str, key: str) -> int:
    """Return the line of a key in its section, else that of the section, else 1."""
    now, start = "", 1
    wanted = re.compile(rf"\s*[\"']?{re.escape(key)}[\"']?\s*=")
    for at, line in enumerate(text.splitlines(), start=1):
        head = re.match(r"\s*\[+\s*[\"']?([^\]\"']+?)[\"']?\s*\]", line)
        if head:
            now = head[1]
            if now == (section or key):
                start = at
        elif now == section and wanted.match(line):
            return at
    return start
