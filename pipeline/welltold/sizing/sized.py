"""What sizing one stage gives, and the sheet on which it is worked out."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from typing import TYPE_CHECKING, Protocol

from ..interpretation import Condition, Worked
from ..messages import Message, say
from .rules import Rule
from .written import Value, both, cited, fine, shown, told

if TYPE_CHECKING:
    # The treatment room sizes its stages here; only the types come from there.
    from ..treatment.water import Amount

PRACTICE = "common practice, no source"
ARITHMETIC = "arithmetic"


class Inlet(Protocol):
    """The water that reaches a stage."""

    def amount(self, fact: str, unit: str, basis: str | None = None) -> Amount | None:
        """Return how much there is, or None if nobody knows."""
        ...


@dataclass(frozen=True, slots=True)
class Sized:
    """One stage with its sizes, settings and use, and the arithmetic behind each figure."""

    stage: str
    size: Mapping[str, Value]
    settings: Mapping[str, Value]
    use_per_year: Mapping[str, Value]
    worked: tuple[Worked, ...]
    backwash_gpm: Decimal | None
    """What one tank asks of the pump, exact; None: it needs no backwash or could not be sized."""
    service_gpm: Decimal | None
    """The flow that it was sized for."""
    fits: bool | None
    """Whether the pump carries the backwash; None: there is none, or the pump was not timed."""
    conditions: tuple[Condition, ...] = ()
    cautions: tuple[Message, ...] = ()
    refused: tuple[Message, ...] = ()
    """Why it cannot be built here as it stands; empty: it can."""
    instead: tuple[Sized, ...] = ()
    """Other ways to build it that the pump carries; only where it is refused."""

    def first_way(self) -> Sized:
        """Return this, or the first other way to build it where it is refused."""
        return self.instead[0] if self.refused and self.instead else self


@dataclass(slots=True)
class Page:
    """The sheet on which one stage is worked out; made anew for each."""

    parts: dict[str, dict[str, Value]] = field(
        default_factory=lambda: {"size": {}, "settings": {}, "use_per_year": {}}
    )
    worked: list[Worked] = field(default_factory=list)
    conditions: list[Condition] = field(default_factory=list)
    cautions: list[Message] = field(default_factory=list)
    refused: list[Message] = field(default_factory=list)

    def put(
        self, of: str, value: Value, unit: str, code: str, *sources: Rule | str, **args: object
    ) -> None:
        """Write one figure down: where it stands, and the formula with its numbers put in."""
        part, _, name = of.partition(".")
        kept = fine(value) if isinstance(value, Decimal) else value
        self.parts[part][name] = kept
        how = say(f"sizing.{code}", answer=both(value, unit), **_texts(args))
        self.worked.append(Worked(of, kept, unit, how, cited(sources) or ARITHMETIC))

    def adopt(self, worked: Iterable[Worked]) -> None:
        """Write figures down that were worked out elsewhere."""
        for one in worked:
            part, _, name = one.of.partition(".")
            if name not in self.parts[part]:
                self.parts[part][name] = one.value
                self.worked.append(one)

    def ask(self, code: str, citation: str, *, holds: bool | None = None, **args: object) -> None:
        """Write one condition down: ``asks_CODE`` and ``has_CODE`` of the catalogue."""
        texts = _told(args)
        self.conditions.append(
            Condition(
                say(f"sizing.asks_{code}", **texts).text,
                say(f"sizing.has_{code}", **texts).text,
                holds,
                citation,
            )
        )

    def warn(self, code: str, **args: object) -> None:
        """Write a caution down."""
        self.cautions.append(say(f"sizing.{code}", **_told(args)))

    def refuse(self, code: str, **args: object) -> None:
        """Write down why it cannot be built."""
        self.refused.append(say(f"sizing.{code}", **_told(args)))

    def sized(
        self,
        stage: str,
        *,
        service_gpm: Decimal | None = None,
        backwash_gpm: Decimal | None = None,
        fits: bool | None = None,
        instead: tuple[Sized, ...] = (),
    ) -> Sized:
        """Return the finished sheet."""
        return Sized(
            stage,
            self.parts["size"],
            self.parts["settings"],
            self.parts["use_per_year"],
            tuple(self.worked),
            backwash_gpm,
            service_gpm,
            fits,
            tuple(dict.fromkeys(self.conditions)),
            tuple(self.cautions),
            tuple(self.refused),
            instead,
        )


def _texts(args: Mapping[str, object]) -> dict[str, str]:
    return {
        name: shown(value) if isinstance(value, Decimal) else str(value)
        for name, value in args.items()
    }


def _told(args: Mapping[str, object]) -> dict[str, str]:
    return {
        name: told(name, value) if isinstance(value, Decimal) else str(value)
        for name, value in args.items()
    }
