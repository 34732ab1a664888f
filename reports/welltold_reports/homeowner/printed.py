"""A finding beside the printed result that it rests on."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from welltold.boil import GERMS
from welltold.interpretation import Finding, LevelUsed, SampleView
from welltold.reading import Result, Sample, Where
from welltold.speech import basis_words, phrase, sentence_start
from welltold.units import unit as known_unit

from ..numbers import (
    Scaled,
    digits_of,
    digits_only,
    familiar,
    grains,
    plain,
    reader_unit,
    rounded,
    scaled_between,
    trimmed,
    unit_in_words,
    unit_words,
    with_unit,
)
from ..wording import analyte_name, date_words, word

RULES = frozenset({"primary_limit", "action_level", "treatment_technique"})
HEALTH_KINDS = RULES | {"advisory"}
_OPEN_ENDED = {"<": "familiar_less", ">": "familiar_more"}
_ANSWERS = {"present": "value_present", "absent": "value_absent"}
_UNSPOKEN = frozenset({"p/a", "none", "ratio"})
"""Units that say nothing beside the result: "Present P/A" is "Present"."""
_CODED_CELL = re.compile(r"L(\d+)C\d+")


@dataclass(frozen=True, slots=True)
class Item:
    """One finding, the result that it came from, and how to show its numbers."""

    finding: Finding
    result: Result | None
    """None for a calculated or a not-tested finding."""

    @property
    def name(self) -> str:
        """Return the plain name; the printed label for what is not in the registry."""
        return analyte_name(self.finding.analyte, self.finding.label)

    @property
    def heading(self) -> str:
        """Return the plain name, and that only the dissolved part was measured."""
        dissolved = self.finding.fraction == "dissolved"
        return word("name_dissolved", name=self.name) if dissolved else self.name

    @property
    def is_germ(self) -> bool:
        """Whether the level asks only if something was found."""
        return self.finding.analyte in GERMS

    @property
    def levels(self) -> tuple[LevelUsed, ...]:
        """The levels with a number in the finding's own unit, and no goal of zero."""
        return tuple(filter(self._in_own_unit, self.finding.levels))

    @property
    def levels_beside(self) -> tuple[LevelUsed, ...]:
        """The levels for babies that decide nothing, in the finding's own unit."""
        return tuple(filter(self._in_own_unit, self.finding.also))

    def _in_own_unit(self, level: LevelUsed) -> bool:
        own = (self.finding.unit, self.finding.basis)
        return bool(level.value) and (level.unit, level.basis) == own

    @property
    def main_level(self) -> LevelUsed | None:
        """The highest health level, else the highest level for taste and stains."""
        ranked = [lv for lv in self.levels if lv.kind in HEALTH_KINDS]
        ranked = ranked or [lv for lv in self.levels if lv.kind == "secondary"]
        return max(ranked, key=lambda lv: lv.value or Decimal(0), default=None)

    @property
    def yardstick(self) -> LevelUsed | None:
        """The one level to show where there is room for one: the one that decided, not a goal."""
        shown = (lv for lv in self.finding.levels if lv.kind != "goal" and lv.value is not None)
        return next(shown, None)

    @property
    def against_yardstick(self) -> Literal["below", "at", "above", "open"]:
        """How the number lies to the level that decided; "open" when that is not sure."""
        level, value = self.yardstick, self.finding.value
        level = level if level in self.levels else self.main_level
        if level is None or level.value is None or value is None or self.finding.operator == ">":
            return "open"
        if value == level.value:
            return "at"
        return "below" if value < level.value else "above"

    @property
    def scale(self) -> Scaled:
        """The unit for the reader: one in which the main level is 1 or more."""
        level = self.main_level
        value = level.value if level else self.finding.value
        return reader_unit(self.finding.unit or "", value)

    @property
    def shown(self) -> Decimal | None:
        """The value in the reader's unit, with the lab's digits."""
        return None if self.finding.value is None else self._rounded(self.finding.value)

    def in_printed_unit(self, level: LevelUsed) -> Scaled | None:
        """How a level gets into the unit that the lab printed; None where it does not."""
        printed = known_unit(self.result.unit) if self.result and self.result.unit else None
        return scaled_between(level.unit, printed.name) if printed else None

    def _rounded(self, value: Decimal) -> Decimal:
        levels = tuple(self.scale.of(lv.value) for lv in self.levels if lv.value is not None)
        return rounded(self.scale.of(value), self.digits, levels)

    @property
    def digits(self) -> int:
        """How many digits the lab printed."""
        if self.result and self.result.value is not None:
            return digits_of(self.result.value)
        return 3

    @property
    def printed(self) -> str:
        """The result with its unit as the lab printed it; the amount for a calculated finding."""
        if self.result is None:
            amount = self.amount
            return word("value_combined", value=amount) if amount else word("value_none")
        return self._answer(self.result) or self.amount

    def _answer(self, result: Result) -> str:
        """Return a bare answer in the reader's words beside the lab's own; "" for any other."""
        bare = result.text and not any(char.isdigit() for char in result.text)
        if not bare or result.correction or result.state not in _ANSWERS:
            return ""
        return word(_ANSWERS[result.state], printed=self.amount)

    @property
    def amount(self) -> str:
        """The result with its unit, corrected or as printed, or the calculated amount."""
        if self.result is None:
            return self._calculated()
        if self.finding.analyte == "ph":
            return self.result.stated or word("value_none")
        return as_stated(self.result)

    @property
    def source_words(self) -> str:
        """Where a finding without a printed result comes from: other lines, or the site file."""
        return word("sure_worked_out" if self.finding.analyte else "sure_told")

    @property
    def value_text(self) -> str:
        """The result as the lab printed it, then in the unit of the page and in familiar words."""
        if self.result is None or self.finding.present is not None:
            return self.printed
        other = self._familiar()
        printed = self.printed.replace("ug/L", unit_words("ug/L"))
        if other and self._moved:
            shown = with_unit(self.shown or Decimal(0), self.scale.unit)
            shown = self._open_ended(shown)
            parts = unit_in_words(self.scale.unit)
            return word("value_moved", printed=printed, shown=shown, unit=parts)
        return word("value_familiar", printed=printed, familiar=other) if other else printed

    @property
    def _moved(self) -> bool:
        """Whether the page counts in another unit than the sheet, on the same basis."""
        printed = known_unit(self.result.unit) if self.result and self.result.unit else None
        if printed is None or not unit_in_words(printed.name) or not unit_in_words(self.scale.unit):
            return False
        return printed.name != self.scale.unit and self._on_the_sheets_basis

    def _open_ended(self, amount: str) -> str:
        """Return an amount in words where it is only a limit: "less than 5 µg/L"."""
        name = _OPEN_ENDED.get(self.finding.operator or "")
        return word(name, value=amount) if name else amount

    @property
    def _on_the_sheets_basis(self) -> bool:
        """Whether the number is the sheet's own, and not nitrate counted as its nitrogen."""
        value, result = self.finding.value, self.result
        if result is None or result.value is None or value is None:
            return True
        return digits_only(result.value) == digits_only(value)

    def _calculated(self) -> str:
        """Return a calculated amount, or the span in which it lies."""
        low, high = self.finding.low, self.finding.high
        if self.shown is not None:
            return with_unit(self.shown, self.scale.unit)
        if low is None:
            return self.finding.text
        lowest = with_unit(self._rounded(low), None if high else self.scale.unit)
        if high is None:
            return word("value_at_least", low=lowest)
        highest = with_unit(self._rounded(high), self.scale.unit)
        return word("value_between", low=lowest, high=highest)

    def _familiar(self) -> str:
        """Return the amount in familiar words, or "" where there is nothing to add."""
        finding = self.finding
        if self.shown is None or finding.value is None or finding.unit is None:
            return ""
        if finding.analyte == "hardness":
            return self._hardness(finding.value)
        words = familiar(self.shown, self.scale.unit, self.digits)
        if words and finding.basis and not self._on_the_sheets_basis:
            words = basis_words(words, finding.basis)
        return self._open_ended(words) if words else ""

    def _hardness(self, value: Decimal) -> str:
        """Return hardness in the units of the page and of a softener that the lab did not print."""
        if (self.finding.unit, self.finding.basis) != ("mg/L", "CaCO3"):
            return ""
        told = []
        if "gpg" not in self.amount and "gr" not in self.amount:
            told.append(grains(value))
        if "mg/l" not in self.amount.lower():
            shown = plain(rounded(value, self.digits))
            told.append(word("familiar_about", value=shown, unit=self.scale.unit))
        return ", ".join(told)


def as_printed(result: Result) -> str:
    """Return the result with its unit as the lab printed it.

    A sentence may hold both already; a bare "ND" is told in words.
    """
    return _with_unit(result, result.text)


def as_stated(result: Result) -> str:
    """Return the result with its unit: what a person put in its place, else as printed."""
    return _with_unit(result, result.stated)


def corrections_of(items: Iterable[Item]) -> tuple[str, ...]:
    """Return one line for each result that a person corrected, with its name."""
    results = [item.result for item in items if item.result and item.result.correction]
    told = (word("corrected_line", name=r.label, line=correction_words(r)) for r in results)
    return tuple(dict.fromkeys(told))


def correction_words(result: Result) -> str:
    """Return who put what in place of the printed result, and when; "" for one as printed."""
    made = result.correction
    if made is None:
        return ""
    name = "sure_confirmed" if made.text.strip() == result.text.strip() else "sure_corrected"
    day = date_words(made.at)
    return word(name, by=made.by, text=made.text, printed=result.text, date=day)


def _with_unit(result: Result, stated: str) -> str:
    text, unit = stated or word("value_none"), result.unit or ""
    if unit.lower() in _UNSPOKEN:
        return text
    if result.state == "below" and not any(char.isdigit() for char in text):
        return word("value_not_found", printed=text)
    return text if unit in text else f"{text} {unit}"


def items_of(view: SampleView, sample: Sample | None) -> tuple[Item, ...]:
    """Pair every finding of a sample with the printed result that it rests on.

    Several results may stand in one sentence of a letter, so a place alone tells them not apart.
    """
    printed: dict[tuple[object, ...], Result] = {}
    for result in sample.results if sample else ():
        for key in _keys(result):
            printed.setdefault(key, result)
    return tuple(
        Item(finding, next((printed[key] for key in _keys(finding) if key in printed), None))
        for finding in view.findings
    )


def _keys(one: Finding | Result) -> tuple[tuple[object, ...], ...]:
    """Return by what a finding and its result know each other, the surest first."""
    told = (one.label, one.text)
    return ((one.where, *told), (one.where, one.label), told) if one.where else (told,)


def place_words(places: Iterable[Where], *, brief: bool = False) -> str:
    """Return where the value stands on the sheet, in words; ``brief``: for a narrow column."""
    place = next((at for at in places if at.of == "value"), None) or next(iter(places), None)
    if place is None:
        return word("place_unknown")
    if place.cell is not None:
        line = _CODED_CELL.fullmatch(place.cell)
        if line:
            return word("place_line", line=line.group(1))
        if place.sheet:
            return word("place_sheet_cell", sheet=place.sheet, cell=place.cell)
        return word("place_cell", cell=place.cell)
    if place.box is not None and place.page is not None:
        inches = round(place.box[1] / 72, 1)
        name = "place_page_down_brief" if brief else "place_page_down"
        return word(name, page=place.page, inches=inches)
    return word("place_page", page=place.page or 1)


def level_words(
    item: Item, level: LevelUsed, scale: Scaled | None = None, *, brief: bool = False
) -> str:
    """Return who set a level, and its number in the reader's unit.

    With ``scale`` it is in that unit; ``brief``: who set it is told in few words.
    """
    taste = brief and level.kind == "secondary" and is_federal(level)
    who = word("kind_secondary_short") if taste else kind_words(level)
    if not level.value:
        return _no_amount(item, level, who)
    same = (level.unit, level.basis) == (item.finding.unit, item.finding.basis)
    scale = scale or (item.scale if same else Scaled(level.unit))
    value = with_unit(trimmed(scale.of(level.value)), scale.unit)
    if level.low is not None:
        return word("level_range", who=who, low=plain(trimmed(scale.of(level.low))), high=value)
    return word("level_line", who=who, value=value)


def _no_amount(item: Item, level: LevelUsed, who: str) -> str:
    """Return a level without an amount: none at all, a goal of zero, or no number."""
    if item.is_germ or item.finding.present is not None:
        return word("level_none_found", who=who)
    if level.kind == "goal":
        return word("level_zero", who=who)
    return who if level.kind == "advisory" else word("level_no_number", who=who)


def kind_words(level: LevelUsed) -> str:
    """Return what kind of level it is and who set it."""
    if level.kind == "advisory":
        return sentence_start(phrase(level.programme))
    other = "" if is_federal(level) else "_other"
    return word(f"kind_{level.kind}{other}", programme=phrase(level.programme))


def is_federal(level: LevelUsed) -> bool:
    """Whether the level is one of EPA's own."""
    return level.programme.lower().startswith(("epa", "new epa", "us_federal"))
