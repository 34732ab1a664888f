"""The page of a batch for the person at the telephone: whom to call today stands first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from typing import TYPE_CHECKING
from urllib.parse import quote

from welltold.boil import NITROGEN
from welltold.messages import Language, say, speaking
from welltold.reviews import is_draft
from welltold.speech import date_words, in_sentence, listed
from welltold.summary import NONE

from .visible import only_visible
from .wording import analyte_name, has_word, word

if TYPE_CHECKING:
    from welltold.summary import Row

PARTS = ("now", "soon", "held")


@dataclass(frozen=True, slots=True)
class Call:
    """One sample of a part."""

    sample: str
    point: str
    """Where it was taken; "" where that is not known, or is the sample's name already."""
    file: str
    """The sheet that it stands on, below the folder of the batch."""
    what: str
    who: str
    report: str
    """Address of the report, relative to the page; "" where there is none."""
    report_name: str
    opens: str
    """What the link says to somebody who hears it alone."""
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """Samples that ask for the same haste."""

    heading: str
    caption: str
    calls: tuple[Call, ...]

    @property
    def has_who(self) -> bool:
        """Whether any sample of the part names persons."""
        return any(call.who for call in self.calls)

    @property
    def has_notes(self) -> bool:
        """Whether there is anything to know before a call."""
        return any(call.notes for call in self.calls)


@dataclass(frozen=True, slots=True)
class Heads:
    """The heads of the columns."""

    sample: str
    file: str
    what: str
    who: str
    report: str
    note: str


@dataclass(frozen=True, slots=True)
class UrgentPage:
    """Everything on the page."""

    language: Language
    title: str
    intro: str
    heads: Heads
    parts: tuple[Part, ...]
    counts_head: str
    counts: tuple[str, ...]
    about: str


def build_urgent(rows: Sequence[Row], counts: Mapping[str, int], language: Language) -> UrgentPage:
    """Return the page of a batch; ``rows`` of its summary, ``counts`` by the names of the room."""
    with speaking(language):
        return only_visible(_page(rows, counts, language))


def _page(rows: Sequence[Row], counts: Mapping[str, int], language: Language) -> UrgentPage:
    chosen = [_part(name, [row for row in rows if _part_of(row) == name]) for name in PARTS]
    urgent = sum(row["phone_first"] == "yes" for row in rows)
    form = {0: "none", 1: "one"}.get(urgent, "many")
    about = (
        _said("made", day=date_words(rows[0]["levels_date"]), version=rows[0]["version"])
        if rows
        else ""
    )
    return UrgentPage(
        language=language,
        title=_said("title"),
        intro=_said(f"intro_{form}", n=urgent, all=len(rows)),
        heads=Heads(*(_said(f"column_{one.name}") for one in fields(Heads))),
        parts=tuple(part for part in chosen if part.calls),
        counts_head=_said("head_counts"),
        counts=tuple(
            _said("count_line", name=_said(f"count_{name}"), n=n) for name, n in counts.items()
        ),
        about=" ".join(filter(None, (about, word("about_draft") if is_draft(language) else ""))),
    )


def _said(code: str, /, **args: object) -> str:
    return say(f"urgent.{code}", **args).text


def _part_of(row: Row) -> str:
    if row["phone_first"] == "yes":
        return "now"
    if row["urgency"] == "soon":
        return "soon"
    return "" if row["outcome"] == "made" else "held"


def _part(name: str, rows: Iterable[Row]) -> Part:
    calls = tuple(_call(row, urgent=name == "now") for row in rows)
    return Part(_said(f"head_{name}"), _said(f"caption_{name}"), calls)


def _call(row: Row, *, urgent: bool) -> Call:
    point = row["sampling_point"]
    name = row["sample_id"] if row["sample_id"] != NONE else point
    place = "" if point in {NONE, name} else point
    name = name if name != NONE else _said("unnamed")
    day = row["collected"]
    sample = name if day == NONE else _said("taken", sample=name, day=date_words(day))
    slugs = row["act_now"] if urgent else row["health_concerns"]
    report = row["report_file"]
    return Call(
        sample=sample,
        point=place,
        file="" if row["file"] == NONE else row["file"],
        what=_names(slugs),
        who=_persons(row["persons"]),
        report="" if report == NONE else quote(report),
        report_name=report.rpartition("/")[2],
        opens=_said("open_report", sample=name),
        notes=tuple(_notes(row)),
    )


def _names(slugs: str) -> str:
    """Return analytes as a list in words; "" for none."""
    names = [analyte_name(slug) for slug in slugs.split() if slugs != NONE]
    return listed([*names[:1], *map(in_sentence, names[1:])])


def _persons(slugs: str) -> str:
    known = [slug for slug in slugs.split() if slugs != NONE and has_word(f"person_{slug}")]
    known = ["everyone"] if "everyone" in known else known
    return listed([word(f"person_{slug}") for slug in known])


def _notes(row: Row) -> Iterable[str]:
    """Yield what the caller has to know before the call."""
    if row["outcome"] != "made":
        yield _said("held")
    if row["phone_first"] != "yes":
        return
    if NITROGEN & set(f"{row['health_concerns']} {row['act_now']}".split()):
        yield _said("found_nitrate")
    elif row["bacteria_and_nitrate"] == "unknown":
        yield _said("found_open")
