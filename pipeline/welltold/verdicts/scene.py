"""The scene of one sample: everything beside a result that may have hidden what is in the water."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cached_property

from ..messages import Message, say
from ..reading import Reading, Result, Sample
from ..site import Site
from .bottles import bottle_with
from .doubt_tables import (
    BEHIND,
    Doubt,
    When,
    hidden_by,
    names,
    remark_words,
    sampling_doubts,
    waiting_limits,
)

CHLORINE = frozenset(
    {"chlorine", "free_chlorine", "total_chlorine", "combined_chlorine", "chloramines",
     "monochloramine", "chlorine_dioxide"}
)  # fmt: skip
DAYS_AFTER_SHOCK = 14
"""Until then chlorine may be left in the pipes: one to two weeks, common practice."""
_NOT = ("no ", "zero ", "without ", "no visible ", "minimal ")


@dataclass(frozen=True)
class Scene:
    """One sample with its sheet and the site file."""

    sample: Sample
    site: Site = field(default_factory=Site)
    reading: Reading | None = None
    beside: tuple[Sample, ...] = ()
    """The other bottles of the same tap and day."""

    @cached_property
    def after(self) -> tuple[str, ...]:
        """Stages in front of the tap; ``unknown`` where only "treated" is known."""
        facts = self.site.samples.get(self.sample.id or "")
        if facts and facts.after:
            return facts.after
        taken = facts.taken if facts and facts.taken else self.sample.taken
        if taken in {"raw", "first_draw", "flushed"} and facts and facts.taken:
            return ()
        if self.site.equipment.after:
            return self.site.equipment.after
        return ("unknown",) if taken == "treated" else ()

    @cached_property
    def chlorine_left(self) -> bool:
        """Whether chlorine was measured above 0 in this sample."""
        return any(
            result.analyte in CHLORINE
            and (
                result.state in {"present", "above", "trace"}
                or (result.state == "value" and bool(result.value) and result.value > 0)  # type: ignore[operator]  # not None here
            )
            for result in self.sample.results
        )

    @cached_property
    def shocked(self) -> bool:
        """Whether the well was disinfected so lately that chlorine may be left."""
        days = self.site.well.shocked_days_ago
        return days is not None and days <= DAYS_AFTER_SHOCK

    @cached_property
    def on_sheet(self) -> str:
        """The lines of the sheet that are not results, in lower case."""
        if self.reading is None:
            return ""
        parts = [one.text for one in self.reading.unread]
        parts += [one.text for one in self.reading.warnings]
        return " \n ".join((*parts, self.sample.point or "", self.sample.matrix or "")).lower()

    def ran_only(self, slug: str) -> bool:
        """Whether the water had not stood in the pipes, and no bottle beside it had."""
        if self.sample.taken in {"first_draw", None}:
            return False
        return bottle_with(slug, "first_draw", self.beside) is None

    def remarked(self, remark: str, result: Result) -> bool:
        """Whether the sheet says so beside the result or in a line of its own."""
        beside = " \n ".join((*result.qualifiers, result.method or "")).lower()
        words = remark_words()[remark]
        if remark == "on_site":
            return _said(words, beside)
        return _said(words, beside) or _said(words, self.on_sheet)

    def doubts(self, result: Result) -> tuple[tuple[Doubt, Message], ...]:
        """Return what may have hidden this analyte, each with its reason."""
        slug = result.analyte or ""
        days = {"days": self.site.well.shocked_days_ago}
        told = [
            (doubt, say(f"doubt.{doubt.why}", **(days if doubt.when == "shocked" else {})))
            for doubt in sampling_doubts()
            if doubt.about(slug) and doubt.when and self._holds(doubt.when, result)
        ]
        return (*told, *self._late(result), *self._behind(slug))

    def _late(self, result: Result) -> Iterable[tuple[Doubt, Message]]:
        """Yield a doubt where the bottle waited longer than the test allows."""
        start = result.analyzed or self.sample.received
        hours = hours_between(self.sample.collected, start)
        doubt = next((one for one, _ in waiting_limits() if one.about(result.analyte or "")), None)
        if hours is None or doubt is None:
            return
        most = dict(waiting_limits())[doubt]
        if hours > most:
            yield doubt, say(f"doubt.{doubt.why}", hours=hours)

    def _behind(self, slug: str) -> Iterable[tuple[Doubt, Message]]:
        stages = [stage for stage in self.after if names(hidden_by().get(stage, ()), slug)]
        if not stages:
            return
        doubt = Doubt(BEHIND, ("*",), "low", None, "behind", ("test_before",))
        if stages == ["unknown"]:
            yield doubt, say("doubt.behind_unknown")
            return
        words = ", ".join(say(f"treatment.name_{stage}").text for stage in stages)
        yield doubt, say("doubt.behind", stage=words)

    def _holds(self, when: When, result: Result) -> bool:
        taken, remarked, slug = self.sample.taken, self.remarked, result.analyte or ""
        answers: Mapping[When, Callable[[], bool]] = {
            "not_stood": lambda: self.ran_only(slug),
            "draw_unknown": lambda: (
                taken is None and bottle_with(slug, "first_draw", self.beside) is None
            ),
            "flooded": lambda: bool(self.site.well.flooded),
            "shocked": lambda: self.shocked,
            "chlorine_left": lambda: self.chlorine_left or remarked("chlorine", result),
            "dissolved_only": lambda: result.fraction == "dissolved" and not self._whole(result),
            "gas_unkept": lambda: self._gas_unkept(result),
            "bubbles": lambda: remarked("bubbles", result),
            "not_acidified": lambda: remarked("not_acidified", result),
        }
        return answers[when]()

    def _gas_unkept(self, result: Result) -> bool:
        """Whether nothing says that the bottle held the gas, or that it was tested at the tap."""
        kept = self.remarked("kept", result) and not self.remarked("no_preservative", result)
        return not (kept or self.remarked("on_site", result))

    def _whole(self, result: Result) -> bool:
        """Whether the whole of a metal was tested beside its dissolved part."""
        return any(
            one.analyte == result.analyte and one.fraction != "dissolved" and one.state != "blank"
            for one in self.sample.results
        )


def hours_between(first: str | None, second: str | None) -> int | None:
    """Return the whole hours that passed at least; None where a time is missing or runs back."""
    try:
        start, end = datetime.fromisoformat(first or ""), datetime.fromisoformat(second or "")
    except ValueError:
        return None
    passed = end.replace(tzinfo=None) - start.replace(tzinfo=None)
    if "T" not in f"{first}".replace(" ", "T") or "T" not in f"{second}".replace(" ", "T"):
        passed -= timedelta(days=1)
    hours = int(passed.total_seconds() // 3600)
    return hours if hours >= 0 else None


def _said(words: Sequence[str], text: str) -> bool:
    """Whether one of the words stands in the text, and not behind a "no"."""
    for word in words:
        start = text.find(word)
        while start >= 0:
            if not text[:start].endswith(_NOT):
                return True
            start = text.find(word, start + 1)
    return False
