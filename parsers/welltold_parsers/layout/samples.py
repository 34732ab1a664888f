"""Which sample a result belongs to.

What is known of a sample comes in pieces: a block's heading, a page's head, a column's head, a list
of samples on the first page. Pieces are kept until a result needs a sample; then they name a sample
that is known already, complete the current one, or begin a new one.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from welltold.reading import Result, Sample

from .dates import Stamp, is_date, stamp, time_of
from .draws import how_taken
from .empties import says_nothing
from .same_samples import IDENTITY as _IDENTITY
from .same_samples import NUMBERS as _NUMBERS
from .same_samples import one_moment, rejoined, shortened
from .ticked_places import ticked_place

Facts = dict[str, str]

_ID_AND_PLACE = re.compile(r"^((?=\S*\d)\S+)\s+\(([^()]{3,40})\)$")
_KIND_OF_SOURCE = re.compile(
    r"(?i)(?:(?:private|public|individual|domestic|drilled|dug|residential|home|household|potable"
    r"|drinking|ground|surface|raw|community)[ -]*)*(?:wells?|springs?|water(?: supply)?|supply)"
)
"""What kind of source it is, no place: "Private Well"."""
_WHEN = ("collected", "received")
_STANDING = re.compile(
    r"(?i)^((?=\S*\d)\S+)\s+[(\[-]?\s?(?:final|preliminary|draft|revised|amended|complete|completed"
    r"|reported|in progress|pending|new)[)\]]?$"
)
"""A number with how far its report has come: "WQ-03317 Final"."""


@dataclass(slots=True, eq=False)
class Draft:
    """A sample while its results are gathered."""

    facts: Facts = field(default_factory=dict)
    results: list[Result] = field(default_factory=list)
    unsure: bool = False
    """Begun by another day alone, without a name."""

    def agrees(self, facts: Mapping[str, str]) -> bool:
        """Whether nothing known of this sample contradicts these facts."""
        told = (*_IDENTITY, "taken")
        return all(self.facts.get(r, facts[r]) == facts[r] for r in told if r in facts)

    def same_day(self, facts: Mapping[str, str]) -> bool:
        """Whether these facts name no other day of collection than this sample's."""
        one, other = self.facts.get("collected"), facts.get("collected")
        return one is None or other is None or one[:10] == other[:10]


class Samples:
    """All samples of one file, in the order in which their results come."""

    __slots__ = (
        "_controls",
        "_current",
        "_known",
        "_listed",
        "_numbered",
        "_pending",
        "common",
        "day_first",
        "drafts",
        "headed",
        "order_told",
        "unsure_dates",
    )

    def __init__(self, *, day_first: bool) -> None:
        self.drafts: list[Draft] = []
        self.day_first = day_first
        self.order_told = False
        """Some date on the sheet can only be read one way, so all are read that way."""
        self.unsure_dates: set[str] = set()
        self.common: dict[str, set[str]] = {}
        self.headed: set[str] = set()
        """Names of samples at the head of a table of which no column of results was found."""
        self._current: Draft | None = None
        self._pending: Facts = {}
        self._listed: list[Facts] = []
        self._controls: dict[str, str] = {}
        self._numbered: dict[tuple[str, str], list[Draft]] = {}
        self._known: dict[tuple[str, ...], Draft] = {}

    def note(self, role: str, text: str) -> None:
        """Keep a fact about the sample whose results come next."""
        if role == "sample_id":
            if plain := _STANDING.match(text.strip()):
                text = plain[1]
            both = _ID_AND_PLACE.match(text.strip())
            if both:
                self.note("point", both[2])
                text = both[1]
            elif not any(c.isdigit() for c in text):
                role = "point"
        kept = self.fact(role, text)
        if kept is None:
            return
        if role == "point" and (known := self._pending.get("point")) and known != kept:
            if _KIND_OF_SOURCE.fullmatch(kept):
                return
            if _KIND_OF_SOURCE.fullmatch(known):
                self._pending["point"] = kept
                return
        if role in _IDENTITY and role in self._pending and self._pending[role] != kept:
            self.list_(self._pending)
            self._pending = {}
        self._pending[role] = kept
        self.common.setdefault(role, set()).add(kept)

    def fact(self, role: str, text: str) -> str | None:
        """Return a fact as it is kept: dates in ISO 8601, everything else as printed."""
        text = _clean(text)
        if role == "point" and (chosen := ticked_place(text)) != text:
            text = "" if _KIND_OF_SOURCE.fullmatch(chosen) else chosen
        if not text:
            return None
        if role in _WHEN:
            found = stamp(text, day_first=self.day_first, packed=True)
            if found is None:
                return None
            self._ask(found)
            return found.iso
        if role == "collected_time":
            return _time(text)
        if role in _NUMBERS and (plain := _STANDING.match(text)):
            text = plain[1]
        if role in {"lab_id", "report_id"} and not any(c.isdigit() for c in text):
            return None
        return None if role == "report_id" and is_date(text) else text

    def _ask(self, found: Stamp) -> None:
        if found.ambiguous and not self.order_told:
            self.unsure_dates.add(found.iso)

    def list_(self, facts: Facts) -> None:
        """Keep a line of a list of samples, to complete the samples at the end."""
        if any(role in facts for role in _IDENTITY):
            self._listed.append(facts)

    def control(self, facts: Facts) -> None:
        """Keep the numbers of a line of a list that is no client's water, by its code."""
        for role in _NUMBERS:
            if role in facts:
                self._controls[facts[role]] = facts["sample_type"]

    def code_of(self, facts: Mapping[str, str]) -> str | None:
        """Return the code that a list gives to a sample of this number, if it is a control."""
        numbers = {facts[r] for r in _NUMBERS if r in facts} & self._controls.keys()
        if not numbers or any(other.get(r) in numbers for other in self._listed for r in _NUMBERS):
            return None
        return self._controls[min(numbers)]

    def forget(self) -> None:
        """Drop the names that were noted last: they belong to a blank or a control."""
        self._pending = {r: t for r, t in self._pending.items() if r not in _IDENTITY}

    def role_of(self, text: str) -> str | None:
        """Return the role of a number or name of a sample in a list or noted before."""
        for role in (*_NUMBERS, "point"):
            known = (*self._listed, self._pending, *(d.facts for d in self.drafts))
            if any(facts.get(role) == text for facts in known):
                return role
        return None

    def knows(self, facts: Mapping[str, str]) -> bool:
        """Whether one of these numbers belongs to a sample of a list, or to one with results."""
        told = [d.facts for d in self.drafts if d.results]
        return any(
            facts[r] == other.get(r)
            for r in _NUMBERS
            if r in facts
            for other in (*self._listed, *told)
        )

    def day(self) -> str | None:
        """Return the day of collection that the facts so far name."""
        now = self._current.facts if self._current is not None else {}
        return self._pending.get("collected") or now.get("collected")

    def current(self) -> Draft:
        """Return the sample that the facts so far name."""
        pending, self._pending = self._pending, {}
        named = {r: pending[r] for r in _IDENTITY if r in pending}
        if named:
            self._current = self._named(named, pending)
        elif self._current is None:
            self._current = self._new()
        elif self._current.results and not self._current.same_day(pending):
            self._current = self._new()
            self._current.unsure = True
        draft = self._current
        for role, text in pending.items():
            draft.facts.setdefault(role, text)
        if named:
            self._remember(draft)
        return draft

    def _named(self, named: Facts, pending: Facts) -> Draft:
        now = self._current
        if (
            now is not None
            and now.agrees(named)
            and now.same_day(pending)
            and (not now.results or self._completes(now, named))
        ):
            return now
        for draft in self.drafts:
            if not draft.agrees(named) or not draft.same_day(pending):
                continue
            if any(draft.facts.get(r) == named[r] for r in named):
                return draft
        return self._new()

    @staticmethod
    def _completes(now: Draft, named: Facts) -> bool:
        """Whether facts printed behind a sample's results still belong to it."""
        if any(now.facts.get(r) == named[r] for r in named):
            return True
        return set(named) == {"point"} and bool(now.facts.keys() & {"lab_id", "sample_id"})

    def _new(self) -> Draft:
        draft = Draft()
        self.drafts.append(draft)
        return draft

    def of(self, facts: Facts) -> Draft:
        """Return the sample that a row or a column names by itself."""
        key = tuple(
            facts.get(r, "")
            for r in (*_IDENTITY, "collected", "collected_time", "depth", "taken", "duplicate")
        )
        draft = self._known.get(key)
        if draft is None:
            draft = self._known[key] = self._match(facts) or self._new()
            for role, text in facts.items():
                draft.facts.setdefault(role, text)
            self._remember(draft)
        return draft

    def dated(self, facts: Facts) -> Draft:
        """Return the sample of a row that gives a day and no name: another day, another sample."""
        draft = self.current()
        when = [(draft.facts.get(r), facts.get(r)) for r in ("collected", "collected_time")]
        if all(a == b or (a is None and not draft.results) for a, b in when):
            for role, text in facts.items():
                draft.facts.setdefault(role, text)
            return draft
        named = {r: draft.facts[r] for r in _IDENTITY if r in draft.facts}
        key = tuple(facts.get(r, "") for r in ("collected", "collected_time", "depth"))
        other = self._known.get(key)
        if other is None:
            other = self._known[key] = self._new()
            other.facts.update(named | facts)
        return other

    def alone(self, facts: Facts) -> Draft:
        """Return a new sample: a row of a data file that names none."""
        draft = self._new()
        draft.facts.update(facts)
        return draft

    def _match(self, facts: Facts) -> Draft | None:
        """Return the sample that has one of these numbers, if nothing else speaks against it."""
        for role in _NUMBERS:
            for draft in self._numbered.get((role, facts.get(role, "")), ()):
                one = draft.facts.get("duplicate") == facts.get("duplicate")
                if one and draft.agrees(facts) and one_moment(draft.facts, facts):
                    return draft
        return None

    def _remember(self, draft: Draft) -> None:
        for role in _NUMBERS:
            text = draft.facts.get(role)
            if text:
                known = self._numbered.setdefault((role, text), [])
                if draft not in known:
                    known.append(draft)

    def finish(self) -> tuple[Sample, ...]:
        """Return the samples that have results."""
        full = [d for d in self.drafts if d.results]
        if len(full) == 1:
            for role, text in self._pending.items():
                full[0].facts.setdefault(role, text)
        nameless = [d for d in full if not d.facts.keys() & set(_IDENTITY)]
        for draft in full:
            self._complete(draft, alone=len(full) == 1)
        return tuple(_sample(draft) for draft in shortened(rejoined(full, nameless)))

    def astray(self) -> list[str]:
        """Return the names that keys gave to samples, where no sample with results has them."""
        full = [d.facts for d in self.drafts if d.results]
        told = {text for facts in full for text in facts.values()}
        numbered = any(facts.keys() & set(_NUMBERS) for facts in full)
        roles = _NUMBERS if numbered else _IDENTITY
        names = [n for r in roles for n in sorted(self.common.get(r, ())) if n not in told]
        headless = [n for n in sorted(self.headed) if n not in told]
        return [n for n in names if not _whole_order(n, full)] + headless

    def _complete(self, draft: Draft, *, alone: bool) -> None:
        for facts in self._listed:
            if _same_sample(draft.facts, facts) or (alone and len(self._listed) == 1):
                for role, text in facts.items():
                    draft.facts.setdefault(role, text)
        nameless = not draft.facts.keys() & set(_IDENTITY)
        for role, texts in self.common.items():
            if len(texts) == 1 and (alone or nameless or role not in _IDENTITY):
                draft.facts.setdefault(role, next(iter(texts)))


@lru_cache(maxsize=4096)
def _clean(text: str) -> str:
    """Return a fact's text with single blanks; "" where it says nothing."""
    text = " ".join(text.split()).strip(" ,;")
    return text if any(c.isalnum() for c in text) and not says_nothing(text) else ""


def _time(text: str) -> str | None:
    packed = re.fullmatch(r"([0-2]\d)([0-5]\d)", text)
    return time_of(text) or (f"{packed[1]}:{packed[2]}" if packed else None)


def _whole_order(number: str, samples: Sequence[Facts]) -> bool:
    """Whether a number is that of the whole order: "L26103" of "L26103-01" and "L26103-02"."""
    begins = tuple(number + mark for mark in "-./_ ")
    return any(c.isdigit() for c in number) and all(
        any(facts.get(r, "").startswith(begins) for r in _NUMBERS) for facts in samples
    )


def _same_sample(a: Facts, b: Facts) -> bool:
    names = {a[r] for r in _IDENTITY if r in a}
    return any(b[r] in names for r in _IDENTITY if r in b)


def _sample(draft: Draft) -> Sample:
    facts = draft.facts
    number = facts.get("lab_id") or facts.get("sample_id") or facts.get("client_id")
    point = facts.get("point") or facts.get("client_id")
    if point is None and "lab_id" in facts:
        point = facts.get("sample_id")
    if number is None:
        number = facts.get("report_id")
    return Sample(
        id=number,
        point=point,
        collected=_moment(facts),
        received=facts.get("received"),
        matrix=facts.get("matrix"),
        taken=how_taken(facts),
        results=tuple(draft.results),
    )


def _moment(facts: Facts) -> str | None:
    when, clock = facts.get("collected"), facts.get("collected_time")
    return f"{when}T{clock}" if when and clock and "T" not in when else when
