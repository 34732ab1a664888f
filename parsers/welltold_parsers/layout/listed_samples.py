"""The lines of a list of samples: who they are, told apart from their results."""

from __future__ import annotations

from collections.abc import Mapping

from .drafts import IDENTITY, NUMBERS, Draft, Facts


class ListedSamples:
    """What lists of samples say of each: its numbers and days, or that it is a control."""

    __slots__ = ("_controls", "facts")

    def __init__(self) -> None:
        self.facts: list[Facts] = []
        self._controls: dict[str, str] = {}

    def add(self, facts: Facts) -> None:
        """Keep a line of a list of samples, to complete the samples at the end."""
        if any(role in facts for role in IDENTITY):
            self.facts.append(facts)

    def add_control(self, facts: Facts) -> None:
        """Keep the numbers of a line of a list that is no client's water, by its code."""
        for role in NUMBERS:
            if role in facts:
                self._controls[facts[role]] = facts["sample_type"]

    def code_of(self, facts: Mapping[str, str]) -> str | None:
        """Return the code that a list gives to a sample of this number, if it is a control."""
        numbers = {facts[r] for r in NUMBERS if r in facts} & self._controls.keys()
        if not numbers or any(other.get(r) in numbers for other in self.facts for r in NUMBERS):
            return None
        return self._controls[min(numbers)]

    def complete(self, draft: Draft, *, alone: bool) -> None:
        """Add what a list says of this sample; ``alone``: the sheet has no other with results."""
        for facts in self.facts:
            if _same_sample(draft.facts, facts) or (alone and len(self.facts) == 1):
                for role, text in facts.items():
                    draft.facts.setdefault(role, text)


def _same_sample(a: Facts, b: Facts) -> bool:
    names = {a[r] for r in IDENTITY if r in a}
    return any(b[r] in names for r in IDENTITY if r in b)
