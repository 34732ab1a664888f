"""The findings of one sample, sorted as page 1 needs them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from welltold.boil import GERMS, NITROGEN, BoilAdvice
from welltold.interpretation import Person
from welltold.messages import Message

from ..wording import in_sentence, listed, word
from .other_samples import OtherSample
from .past_concerns import PastConcern
from .printed import RULES, Item

NO_FORMULA = frozenset(
    f"verdict.do_{name}"
    for name in ("manganese_formula", "sulfate_formula", "copper_formula", "baby_bottled")
)
"""Steps that keep this water from a baby's bottle."""
_PART = "verdict.no_level_part"


_GROWN = frozenset({"low_sodium_diet", "kidney_disease", "home_dialysis", "weak_immunity"})
"""Persons who have to ask before they drink what others can; babies have a row of their own."""
_CHILDREN = frozenset({"verdict.do_fluoride_children", "verdict.do_arsenic_formula"})
INTO_THE_AIR = frozenset({"verdict.do_radon_air", "verdict.do_radon_shower"})
"""Steps of what leaves the water when somebody showers, and is breathed."""
_DIET = frozenset({"verdict.do_sodium_doctor"})
"""Steps that say themselves for whom they are."""
_DRAW = {"doubt.draw_unknown"}
_THIS_TAP = "doubt.at_this_tap"


def low_but_for_the_draw(item: Item) -> bool:
    """Whether a number is less than half the level, and only open in the first water of the day."""
    finding = item.finding
    doubts = {one.code for one in finding.why if one.code.startswith("doubt.")}
    levels = [level.value for level in item.levels if level.kind in RULES and level.value]
    if doubts != _DRAW or finding.urgency or finding.value is None or not levels:
        return False
    return finding.operator in {"=", "<"} and 2 * finding.value < min(levels)


def not_for_babies(item: Item) -> bool:
    """Whether a baby's formula is not mixed with this water because of a result."""
    return any(one.code in NO_FORMULA for one in item.finding.do)


def quiet_at_this_tap(item: Item) -> bool:
    """Whether a result is only open for the well: at the treated tap itself nothing was found."""
    finding = item.finding
    told = {one.code for one in finding.why}
    return finding.verdict == "cant_tell" and not finding.urgency and _THIS_TAP in told


@dataclass(frozen=True, slots=True)
class Picture:
    """The sample's findings by how much they matter, and the one advice about boiling."""

    now: tuple[Item, ...]
    """Health concerns that ask for a step today."""
    soon: tuple[Item, ...]
    """Health concerns for the next few weeks."""
    open_now: tuple[Item, ...]
    """Results that cannot be told and may be urgent."""
    watch: tuple[Item, ...]
    nuisance: tuple[Item, ...]
    open_: tuple[Item, ...]
    """Results that cannot be told and are not urgent."""
    quiet: tuple[Item, ...]
    missing: tuple[str, ...]
    """Of germs and nitrate, what was not tested (slugs): no use of the water is answered for
    without the first, nothing for babies without the second."""
    advice: BoilAdvice
    fuel_smell: bool
    at_home: frozenset[str] = frozenset()
    """Persons of the home whom the site file names."""
    past: tuple[PastConcern, ...] = ()
    """What an earlier sheet found of concern, and nobody has tested since."""
    others: tuple[OtherSample, ...] = ()
    """Other samples of this sheet with a health concern that this one has not."""

    @property
    def concerns(self) -> tuple[Item, ...]:
        """All health concerns, the urgent ones first."""
        return self.now + self.soon

    @property
    def not_for_babies(self) -> tuple[Item, ...]:
        """What is no health concern for others, and no water to mix a baby's formula with."""
        calm = self.watch + self.nuisance + self.open_ + self.quiet
        return tuple(filter(not_for_babies, calm))

    @property
    def for_somebody(self) -> tuple[Item, ...]:
        """What is no health concern for most, and asks something of somebody in this home."""
        calm = self.watch + self.nuisance + self.quiet
        here = _GROWN & self.at_home
        return tuple(i for i in calm if i.finding.do and here & {*i.finding.persons})

    @property
    def if_somebody(self) -> tuple[tuple[Item, Message], ...]:
        """What asks something of a child, or of a person who may live here, as nobody said.

        What gets into the air asks something of everybody in the home.
        """
        told = INTO_THE_AIR | (_CHILDREN if self.at_home else _CHILDREN | _DIET)
        calm = self.watch + self.nuisance
        return tuple((i, one) for i in calm for one in i.finding.do if one.code in told)

    @property
    def urgent(self) -> tuple[Item, ...]:
        """Everything that must stand on page 1."""
        return self.now + self.open_now + self.soon

    @property
    def tested(self) -> int:
        """How many results there are."""
        return sum(
            len(part)
            for part in (
                self.concerns,
                self.open_now,
                self.watch,
                self.nuisance,
                self.open_,
                self.quiet,
            )
        )


def picture_of(
    items: Sequence[Item],
    advice: BoilAdvice,
    *,
    fuel_smell: bool,
    at_home: Iterable[str] = (),
    past: tuple[PastConcern, ...] = (),
) -> Picture:
    """Sort one sample's findings; a pure function of the verdicts."""

    def having(verdict: str, *urgency: str | None) -> tuple[Item, ...]:
        return tuple(
            item
            for item in items
            if item.finding.verdict == verdict and (not urgency or item.finding.urgency in urgency)
        )

    return Picture(
        now=having("health_concern", "now"),
        soon=having("health_concern", "soon", None),
        open_now=having("cant_tell", "now", "soon"),
        watch=having("watch"),
        nuisance=having("nuisance_only"),
        open_=tuple(item for item in having("cant_tell", None) if not _settled(item, items)),
        quiet=having("no_concern_found"),
        missing=_missing(items),
        advice=advice,
        fuel_smell=fuel_smell,
        at_home=frozenset(at_home),
        past=past,
    )


def _settled(item: Item, items: Iterable[Item]) -> bool:
    """Whether a result has no level of its own, and the total that it counts toward is told."""
    totals = {one.args["total"] for one in item.finding.why if one.code == _PART}
    told = [other.finding.verdict for other in items if other.name in totals]
    return bool(told) and "cant_tell" not in told


def _missing(items: Iterable[Item]) -> tuple[str, ...]:
    tested = {item.finding.analyte for item in items if item.finding.verdict != "not_tested"}
    germs = () if tested & GERMS else ("total_coliform",)
    nitrate = () if tested & (NITROGEN - {"nitrite"}) else ("nitrate",)
    return germs + nitrate


NAMED_BY = {"total_coliform": "e_coli", "nitrate_nitrite": "nitrate"}
LONGEST_NAME = 60
_SHORT_FORM = re.compile(r".+ \((PF\w+)\)")
"""The long name stands on the card."""


def short_names(items: Sequence[Item], most: int = 3) -> str:
    """Return the names as a list in words, with "and 4 more" behind the first few.

    Coliform is not named beside E. coli, which is one of them, nor a sum beside its main part.
    """
    names = distinct(items)
    if len(names) <= most + 1:
        return listed(names)
    return word("untested_more", names=", ".join(names[:most]), n=len(names) - most)


def distinct(items: Sequence[Item]) -> list[str]:
    """Return the names, each once, without what is part of another one."""
    slugs = {item.finding.analyte for item in items}
    chosen = [i for i in items if NAMED_BY.get(i.finding.analyte or "", "-") not in slugs]
    return list(dict.fromkeys(_short(in_sentence(item.name)) for item in chosen))


def _short(name: str) -> str:
    known = _SHORT_FORM.fullmatch(name)
    if known:
        return known.group(1)
    return name if len(name) <= LONGEST_NAME else f"{name[:LONGEST_NAME].rstrip()}…"


def persons_words(persons: Iterable[Person]) -> str:
    """Return the persons as a list in words; everyone includes all others."""
    who = list(dict.fromkeys(persons))
    if "everyone" in who:
        who = ["everyone"]
    return listed([word(f"person_{person}") for person in who])
