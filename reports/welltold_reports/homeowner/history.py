"""The part on earlier sheets: a picture and a table for each analyte that matters."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from welltold.interpretation import SampleView
from welltold.messages import say, spoken
from welltold.past import Earlier, EarlierResult, History
from welltold.speech import LOCALES, basis_words, date_words, in_sentence, listed

from ..history_chart import MOST, Across, Column, ColumnMark, HistoryChart
from ..numbers import digits_of, plain, rounded, trimmed, unit_words, with_unit
from ..wording import texts, word
from .cards import CARDED
from .history_left import DIGITS, left_heading, left_lines
from .model import HistoryBlock, HistoryPart, Table
from .printed import Item, level_words

MOST_BLOCKS = 8
MOST_LEVELS = 4
"""The axis ends at so many times the level."""
_PH_AXIS = (Decimal(5), Decimal(10))
_MARKS: dict[str, ColumnMark] = {"=": "dot", "<": "up_to", ">": "from"}
_ALTS = {"=": "chart_result", "<": "chart_below", ">": "chart_above"}
_SIGNS = {"=": "", "<": "<", ">": ">"}


@dataclass(frozen=True, slots=True)
class Point:
    """One number in time, in the unit for the reader."""

    day: str
    operator: str
    value: Decimal
    now: bool


def history_part(sample: SampleView, items: Sequence[Item]) -> HistoryPart | None:
    """Return what earlier sheets say; None where none was given."""
    earlier = sample.earlier
    if earlier is None:
        return None
    by_slug = {item.finding.analyte: item for item in reversed(items)}
    pairs = [(one, by_slug[one.analyte]) for one in earlier.analytes if one.analyte in by_slug]
    chosen = [(one, item) for one, item in pairs if _matters(one, item)][:MOST_BLOCKS]
    blocks = tuple(_block(one, item, sample, earlier) for one, item in chosen)
    shown = {one.analyte for one, _ in chosen}
    return HistoryPart(
        heading=say("earlier.head").text,
        caution=say("earlier.caution" if blocks else "earlier.none").text,
        sheets=tuple(_sheets(earlier)),
        blocks=blocks,
        left_heading=left_heading(earlier, shown),
        left=left_lines(earlier, shown),
    )


def _sheets(earlier: Earlier) -> Iterator[str]:
    """Yield why each sheet is used or not; sheets of which the same is told together."""
    files: dict[str, list[str]] = {}
    for sheet in earlier.sheets:
        files.setdefault(" ".join(texts(sheet.why)), []).append(sheet.file)
    for told, names in files.items():
        yield say("earlier.sheet", file=listed(list(dict.fromkeys(names))), told=told).text


def _matters(history: History, item: Item) -> bool:
    """Whether an analyte is a matter now, or was above its level before."""
    if item.finding.verdict in CARDED:
        return True
    level = item.main_level
    return any(
        one.present or (level and level.value and one.value and one.value > level.value)
        for one in history.results
        if one.comparable and one.operator != "<"
    )


def _block(history: History, item: Item, sample: SampleView, earlier: Earlier) -> HistoryBlock:
    points = _points(history, item, sample)
    chart = _chart(points[-MOST:], item)
    return HistoryBlock(
        name=item.name,
        chart=chart,
        note=say("earlier.older", n=MOST).text if chart and len(points) > MOST else "",
        table=Table(
            say("earlier.caption", name=item.name).text,
            tuple(say(f"earlier.head_{head}").text for head in ("day", "result", "note")),
            (*_rows(history, item, earlier), _row_now(item, sample)),
        ),
    )


def _rows(history: History, item: Item, earlier: Earlier) -> Iterator[tuple[str, ...]]:
    for one in history.results:
        why = " ".join(texts(one.why))
        file = earlier.sheets[one.sheet - 1].file
        note = f"{file}. {say('earlier.not_drawn', why=why).text}" if why else file
        yield (
            _day(one.collected),
            _printed(one, item),
            " ".join(filter(None, (note, _drawn(one, item)))),
        )


def _row_now(item: Item, sample: SampleView) -> tuple[str, ...]:
    return (_day(sample.collected), item.printed, say("earlier.now").text)


def _day(collected: str | None) -> str:
    return date_words(collected) if collected else say("earlier.day_unknown").text


def _printed(one: EarlierResult, item: Item) -> str:
    """Return an earlier result as its lab printed it; in words where it stands in a total.

    What we worked out is rounded as everywhere else, and told as worked out.
    """
    if one.text:
        unit = (one.printed_unit or "") if unit_words(one.printed_unit) else ""
        return one.text if unit in one.text else f"{one.text} {unit}"
    if one.present is not None:
        return say("earlier.found" if one.present else "earlier.not_found").text
    if one.value is None:
        return word("value_none")
    amount = with_unit(_shown(one.value, "", item, digits=DIGITS), item.scale.unit)
    return word("value_combined", value=amount)


def _drawn(one: EarlierResult, item: Item) -> str:
    """Return the number in the unit of the picture, where the lab printed it in another one."""
    if not one.comparable or one.value is None or not one.text or one.present is not None:
        return ""
    shown = _shown(one.value, one.text, item)
    if _number_of(one.text) in {None, shown}:
        return ""
    amount, basis = with_unit(shown, item.scale.unit), item.finding.basis
    return say("earlier.drawn_as", amount=basis_words(amount, basis) if basis else amount).text


def _points(history: History, item: Item, sample: SampleView) -> list[Point]:
    """Return the numbers that can be drawn, the oldest first, this sheet's among them."""
    finding = item.finding
    points = [
        Point(one.collected, one.operator, _shown(one.value, one.text, item), now=False)
        for one in history.results
        if one.comparable and one.collected and one.operator and one.value is not None
    ]
    if item.shown is not None and finding.operator and sample.collected:
        points.append(Point(sample.collected, finding.operator, item.shown, now=True))
    points.sort(key=lambda one: one.day)
    return points


def _number_of(text: str) -> Decimal | None:
    """Return the number in a printed result, without its sign; None where it is not just one."""
    figures = "".join(char for char in text if char.isdigit() or char == ".").strip(".")
    return Decimal(figures) if figures and figures.count(".") < 2 else None


def _shown(value: Decimal, text: str, item: Item, digits: int | None = None) -> Decimal:
    """Return an earlier value in the reader's unit, with the digits that its lab printed."""
    printed = _number_of(text)
    digits = digits or (item.digits if printed is None else digits_of(printed))
    levels = tuple(item.scale.of(lv.value) for lv in item.levels if lv.value is not None)
    return rounded(item.scale.of(value), max(digits, 1), levels)


def _chart(points: Sequence[Point], item: Item) -> HistoryChart | None:
    """Return the picture; None for fewer than two numbers, or without this sheet's own."""
    if len(points) < 2 or not any(one.now for one in points):
        return None
    levels = _levels(item)
    bottom, top = _axis(item, [one.value for one in points], levels)
    legend = "" if item.main_level is None else level_words(item, item.main_level)
    dashed = item.main_level is not None and item.main_level.kind == "secondary"
    return HistoryChart(
        columns=tuple(_column(one, bottom, top) for one in points),
        levels=tuple(Across(_percent(one, bottom, top), dashed) for one in levels),
        legend=legend,
        ends=(plain(bottom), plain(trimmed(top))),
        alt=_alt(item, points, legend),
    )


def _levels(item: Item) -> tuple[Decimal, ...]:
    level = item.main_level
    if level is None or level.value is None:
        return ()
    ends = (level.low, level.value) if level.low is not None else (level.value,)
    return tuple(item.scale.of(one) for one in ends)


def _axis(
    item: Item, values: Sequence[Decimal], levels: Sequence[Decimal]
) -> tuple[Decimal, Decimal]:
    """Return the ends of the axis: from zero to the highest number; pH has an axis of its own.

    One number far above the level would press all others flat, so the axis ends at four times the
    level; what lies beyond is drawn with a break.
    """
    if item.finding.analyte == "ph":
        return min(_PH_AXIS[0], *values), max(_PH_AXIS[1], *values)
    highest = max((*values, *levels), default=Decimal(1)) or Decimal(1)
    return Decimal(0), min(highest, MOST_LEVELS * max(levels)) if levels else highest


def _percent(value: Decimal, bottom: Decimal, top: Decimal) -> float:
    """Return the height in percent, kept within the picture."""
    return round(float((min(value, top) - bottom) / (top - bottom) * 100), 1)


def _column(point: Point, bottom: Decimal, top: Decimal) -> Column:
    mark = _MARKS[point.operator]
    beyond = point.value > top or (mark == "from" and point.value == top)
    return Column(
        mark="beyond" if beyond and mark != "up_to" else mark,
        at=_percent(point.value, bottom, top),
        value=f"{_SIGNS[point.operator]}{plain(point.value)}",
        day=_month(point.day),
        now=point.now,
    )


def _month(iso: str) -> str:
    """Return "Nov 2026" for an ISO date."""
    from babel.dates import format_date

    return format_date(date.fromisoformat(iso[:10]), "MMM y", locale=LOCALES[spoken()])


def _alt(item: Item, points: Sequence[Point], legend: str) -> str:
    """Return the picture in words."""
    told = (
        say(
            f"earlier.{_ALTS[one.operator]}",
            day=date_words(one.day),
            value=with_unit(one.value, item.scale.unit),
        ).text
        for one in points
    )
    level = legend or say("earlier.chart_no_level").text
    return say(
        "earlier.chart_alt", name=in_sentence(item.name), results="; ".join(told), level=level
    ).text
