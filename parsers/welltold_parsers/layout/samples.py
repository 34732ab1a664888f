"""Which sample a result belongs to.

What is known of a sample comes in pieces: a block's heading, a page's head, a column's head, a list
of samples on the first page. Pieces are kept until a result needs a sample; then they name a sample
that is known already, complete the current one, or begin a new one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from welltold.reading import Sample

from .dates import Stamp
from .doubt import lowered
from .drafts import IDENTITY, NUMBERS, Draft, Facts, sample_of
from .listed_samples import ListedSamples
from .same_samples import one_moment, rejoined, shortened
from .sample_facts import fact_as_kept, is_kind_of_source, nearer, number_and_place, of_one_head


class Samples:
    """All samples of one file, in the order in which their results come."""

    __slots__ = (
        "_current",
        "_known",
        "_numbered",
        "_parted",
        "_pending",
        "_place_key",
        "common",
        "day_first",
        "drafts",
        "headed",
        "listed",
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
        self.listed = ListedSamples()
        self._current: Draft | None = None
        self._parted: str | None = None
        """The place whose samples are told apart by years."""
        self._pending: Facts = {}
        self._place_key = ""
        """The key of the place noted last, "" where no key named it."""
        self._numbered: dict[tuple[str, str], list[Draft]] = {}
        self._known: dict[tuple[str, ...], Draft] = {}

    def note(self, role: str, text: str, key: str = "") -> None:
        """Keep a fact about the sample whose results come next; ``key``: what it stands behind."""
        if role == "sample_id":
            text, place = number_and_place(text)
            if place is not None:
                self.note("point", place)
            elif not any(c.isdigit() for c in text):
                role = "point"
        kept = self.fact(role, text)
        if kept is None:
            return
        if role == "point" and self._same_place(kept, key):
            return
        if role in IDENTITY and role in self._pending and self._pending[role] != kept:
            self.listed.add(self._pending)
            self._pending = {}
        self._pending[role] = kept
        if role == "point":
            self._place_key = key
        self.common.setdefault(role, set()).add(kept)

    def _same_place(self, kept: str, key: str) -> bool:
        """Whether a place only tells more of the sample that has one; the nearer is kept."""
        known = self._pending.get("point", kept)
        if known == kept:
            return False
        if is_kind_of_source(kept):
            return True
        if is_kind_of_source(known):
            self._pending["point"] = kept
            return True
        if not of_one_head(self._place_key, key):
            return False
        place, self._place_key = nearer((known, self._place_key), (kept, key))
        self._pending["point"] = place
        return True

    def fact(self, role: str, text: str) -> str | None:
        """Return a fact as it is kept: dates in ISO 8601, everything else as printed."""
        found = fact_as_kept(role, text, day_first=self.day_first)
        if not isinstance(found, Stamp):
            return found
        if found.ambiguous and not self.order_told:
            self.unsure_dates.add(found.iso)
        return found.iso

    def forget(self) -> set[str]:
        """Drop the names that were noted last, of a blank or a control; return their roles."""
        gone = self._pending.keys() & set(IDENTITY)
        self._pending = {r: t for r, t in self._pending.items() if r not in IDENTITY}
        return gone

    def role_of(self, text: str) -> str | None:
        """Return the role of a number or name of a sample in a list or noted before."""
        for role in (*NUMBERS, "point"):
            known = (*self.listed.facts, self._pending, *(d.facts for d in self.drafts))
            if any(facts.get(role) == text for facts in known):
                return role
        return None

    def knows(self, facts: Mapping[str, str]) -> bool:
        """Whether one of these numbers belongs to a sample of a list, or to one with results."""
        told = [d.facts for d in self.drafts if d.results]
        return any(
            facts[r] == other.get(r)
            for r in NUMBERS
            if r in facts
            for other in (*self.listed.facts, *told)
        )

    def day(self) -> str | None:
        """Return the day of collection that the facts so far name."""
        now = self._current.facts if self._current is not None else {}
        return self._pending.get("collected") or now.get("collected")

    def place(self) -> str | None:
        """Return the place that the facts so far name."""
        now = self._current.facts if self._current is not None else {}
        return self._pending.get("point") or self._parted or now.get("point")

    def place_told(self) -> None:
        """Drop the place that was noted last: the samples of a table bear it in their names."""
        self._parted = self._pending.pop("point", self._parted)

    @property
    def latest(self) -> Draft | None:
        """The sample that was named or needed last; facts noted since are not yet its own."""
        return self._current

    def current(self) -> Draft:
        """Return the sample that the facts so far name."""
        pending, self._pending = self._pending, {}
        named = {r: pending[r] for r in IDENTITY if r in pending}
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
            for r in (*IDENTITY, "collected", "collected_time", "depth", "taken", "duplicate")
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
        named = {r: draft.facts[r] for r in IDENTITY if r in draft.facts}
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
        for role in NUMBERS:
            for draft in self._numbered.get((role, facts.get(role, "")), ()):
                one = draft.facts.get("duplicate") == facts.get("duplicate")
                if one and draft.agrees(facts) and one_moment(draft.facts, facts):
                    return draft
        return None

    def _remember(self, draft: Draft) -> None:
        for role in NUMBERS:
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
        nameless = [d for d in full if not d.facts.keys() & set(IDENTITY)]
        for draft in full:
            self._complete(draft, alone=len(full) == 1)
        _doubt_unnamed(full)
        return tuple(sample_of(draft) for draft in shortened(rejoined(full, nameless)))

    def astray(self) -> list[str]:
        """Return the names that keys gave to samples, where no sample with results has them."""
        full = [d.facts for d in self.drafts if d.results]
        told = {text for facts in full for text in facts.values()} | {self._parted}
        numbered = any(facts.keys() & set(NUMBERS) for facts in full)
        roles = NUMBERS if numbered else IDENTITY
        names = [n for r in roles for n in sorted(self.common.get(r, ())) if n not in told]
        headless = [n for n in sorted(self.headed) if n not in told]
        return [n for n in names if not _whole_order(n, full)] + headless

    def _complete(self, draft: Draft, *, alone: bool) -> None:
        self.listed.complete(draft, alone=alone)
        nameless = not draft.facts.keys() & set(IDENTITY)
        for role, texts in self.common.items():
            text = next(iter(texts))
            if role in NUMBERS and not draft.unsure and self._of_another_day(draft, role, text):
                continue
            if len(texts) == 1 and (alone or nameless or role not in IDENTITY):
                draft.facts.setdefault(role, text)

    def _of_another_day(self, draft: Draft, role: str, number: str) -> bool:
        """Whether a number is that of a sample taken on another day than this one."""
        others = (d for d in self.drafts if d.results and d.facts.get(role) == number)
        return any(not other.same_day(draft.facts) for other in others)


def _doubt_unnamed(samples: Sequence[Draft]) -> None:
    """Doubt samples that have the number of the whole report alone, beside others with names."""
    unnamed = [d for d in samples if not d.facts.keys() & set(IDENTITY) and "report_id" in d.facts]
    if len(unnamed) < len(samples):
        for draft in unnamed:
            draft.results = [lowered(r, "sample_nameless") for r in draft.results]


def _whole_order(number: str, samples: Sequence[Facts]) -> bool:
    """Whether a number is that of the whole order: "L26103" of "L26103-01" and "L26103-02"."""
    begins = tuple(number + mark for mark in "-./_ ")
    return any(c.isdigit() for c in number) and all(
        any(facts.get(r, "").startswith(begins) for r in NUMBERS) for facts in samples
    )
