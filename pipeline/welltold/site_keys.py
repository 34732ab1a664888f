"""What may stand in a site file: every section, key and value.

One rule a key. A rule turns the TOML value into the program's own, or raises ``WrongValueError``
with what is wrong and what is known.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from typing import Any, get_args

from .interpretation import Person
from .own_text import told
from .reading import Taken
from .stage_files import stage_names
from .tables import read_table

__all__ = [
    "ANIMALS",
    "KEYS",
    "MEDIA",
    "OBSERVATIONS",
    "PERSONS",
    "SAMPLE_KEYS",
    "STATES",
    "TAKEN",
    "UNIT_KEYS",
    "Rule",
    "Timed",
    "WrongValueError",
    "a_day",
    "a_stage",
    "many_of",
    "names",
    "number",
    "one_of",
    "pressures",
    "stage_names",
    "timed",
    "whole",
    "yes_or_no",
]

PERSONS = tuple(person for person in get_args(Person) if person != "everyone")
TAKEN: tuple[str, ...] = get_args(Taken)
OBSERVATIONS = (
    "clear_then_rusty",
    "rusty_at_once",
    "rusty_hot_only",
    "rusty_inside_not_outside",
    "black_specks",
    "rotten_egg_cold",
    "rotten_egg_hot_only",
    "rotten_egg_gone_after_standing",
    "blue_green_stains",
    "scale",
    "slime_in_tank",
    "tea_coloured",
    "cloudy_clears_from_bottom",
    "grit",
    "metallic_taste",
    "salty_taste",
    "fuel_or_solvent_smell",
    "medicine_smell",
    "milky_spurting",
    "oily_film",
    "pinholes",
)
ANIMALS = ("bird", "cat", "cattle", "chicken", "dog", "fish", "goat", "horse", "pig", "sheep")
MEDIA = (
    "activated_alumina",
    "anion_resin",
    "anthracite",
    "calcite",
    "calcite_magnesia",
    "carbon",
    "catalytic_carbon",
    "coated_lightweight",
    "copper_zinc",
    "fine_mesh_resin",
    "greensand",
    "iron_oxide",
    "manganese_blend",
    "manganese_dioxide",
    "multi_layer",
    "resin",
    "sand",
    "tannin_resin",
    "zeolite",
)
_STATES = (
    "AK AL AR AS AZ CA CO CT DC DE FL GA GU HI IA ID IL IN KS KY LA MA MD ME MI MN MO MP MS MT NC "
    "ND NE NH NJ NM NV NY OH OK OR PA PR RI SC SD TN TX UT VA VI VT WA WI WV WY"
)
STATES = tuple(_STATES.split())


class WrongValueError(Exception):
    """A value that a key cannot take.

    Fields: problem, what is known, the value that missed, what was meant where that is certain.
    """

    def __init__(
        self, problem: str, known: str, missed: str | None = None, near: str | None = None
    ) -> None:
        super().__init__(problem, known, missed, near)
        self.near = near
        self.problem = problem
        self.known = known
        self.missed = missed


Rule = Callable[[object], Any]


def number(low: str, high: str) -> Rule:
    """Return the rule for a number from ``low`` to ``high``, both included."""
    return lambda value: _number(value, Decimal(low), Decimal(high))


def whole(low: int, high: int) -> Rule:
    """Return the rule for a whole number from ``low`` to ``high``, both included."""

    def rule(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int):
            problem = told("no_whole", value=_shown(value))
            raise WrongValueError(problem, told("range", low=low, high=high))
        return int(_number(value, Decimal(low), Decimal(high)))

    return rule


def one_of(*known: str) -> Rule:
    """Return the rule for one word of a closed list."""

    def rule(value: object) -> str:
        if not isinstance(value, str) or value not in known:
            missed = value if isinstance(value, str) else None
            problem = told("unknown_here", value=_shown(value), near="")
            raise WrongValueError(problem, ", ".join(known), missed)
        return value

    return rule


def a_state(value: object) -> str:
    """Return the two letters of a state; a name is told with its letters."""
    try:
        return str(one_of(*STATES)(value))
    except WrongValueError as wrong:
        told = str(value).strip()
        near = told.upper() if told.upper() in STATES else state_letters().get(told.casefold())
        raise WrongValueError(wrong.problem, wrong.known, wrong.missed, near) from None


@cache
def state_letters() -> Mapping[str, str]:
    """Return the two letters of each state and territory by its name in small letters."""
    return {row.text("name").casefold(): row.text("letters") for row in read_table("states.csv")}


def many_of(known: Callable[[], tuple[str, ...]]) -> Rule:
    """Return the rule for a list of different words of a closed list."""

    def rule(value: object) -> tuple[str, ...]:
        items = _list(value, told("quoted_words"))
        words = tuple(one_of(*known())(item) for item in items)
        twice = next((word for word in words if words.count(word) > 1), None)
        if twice:
            raise WrongValueError(told("twice", value=f'"{twice}"'), told("once"))
        return words

    return rule


def a_stage(value: object) -> str:
    """Return the name of a treatment stage."""
    return str(one_of(*stage_names())(value))


def yes_or_no(value: object) -> bool:
    """Return true or false."""
    if not isinstance(value, bool):
        raise WrongValueError(told("no_yes_or_no", value=_shown(value)), "true, false")
    return value


def names(value: object) -> tuple[str, ...]:
    """Return a list of names; which of them exist is checked where they are used."""
    items = _list(value, told("quoted_names"))
    if not items or not all(isinstance(item, str) and item for item in items):
        known = told("names_such", example='"us_federal"')
        raise WrongValueError(told("no_names", value=_shown(value)), known)
    return tuple(str(item) for item in items)


def a_day(value: object) -> date:
    """Return a TOML date between the first federal drinking-water act and the year 2100."""
    known = told("date_such", example="2026-11-25")
    if isinstance(value, datetime) or not isinstance(value, date):
        raise WrongValueError(told("no_date", value=_shown(value)), known)
    if not date(1975, 1, 1) <= value <= date(2100, 12, 31):
        known = told("range", low="1975-01-01", high="2100-12-31")
        raise WrongValueError(told("out_of_range", value=value), known)
    return value


def pressures(value: object) -> tuple[Decimal, Decimal]:
    """Return the pump switch's cut-in and cut-out pressure, psi."""
    items = _list(value, told("two_numbers"))
    if len(items) != 2:
        raise WrongValueError(told("no_pair", value=_shown(value)), told("pair_such"))
    low, high = (_number(item, Decimal(5), Decimal(150)) for item in items)
    if low >= high:
        raise WrongValueError(told("pair_order"), told("such", example="[40, 60]"))
    return low, high


@dataclass(frozen=True, slots=True)
class Timed:
    """So many US gallons in so many seconds."""

    gallons: Decimal
    seconds: Decimal


def timed(value: object) -> Timed:
    """Return a timed volume."""
    known = "{gallons = 5, seconds = 40}"
    if not isinstance(value, Mapping) or set(value) != {"gallons", "seconds"}:
        raise WrongValueError(told("no_timed", value=_shown(value)), known)
    gallons = _number(value["gallons"], Decimal("0.5"), Decimal(1000))
    return Timed(gallons, _number(value["seconds"], Decimal(1), Decimal(36000)))


def _number(value: object, low: Decimal, high: Decimal) -> Decimal:
    if isinstance(value, bool) or not isinstance(value, int | Decimal):
        raise WrongValueError(told("no_number", value=_shown(value)), _range(low, high))
    # "nan" and "inf" are numbers to TOML.
    if not Decimal(value).is_finite() or not low <= value <= high:
        raise WrongValueError(told("out_of_range", value=value), _range(low, high))
    return Decimal(value)


def _range(low: Decimal, high: Decimal) -> str:
    return told("range", low=low, high=high)


def _list(value: object, wanted: str) -> list[object]:
    if not isinstance(value, list):
        known = told("list_of", wanted=wanted)
        raise WrongValueError(told("no_list", value=_shown(value)), known)
    return value


def _shown(value: object) -> str:
    """Return a value as it stands in a TOML file."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key} = {_shown(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_shown, value)) + "]"
    return f'"{value}"' if isinstance(value, str) else str(value)


KEYS: Mapping[str, Mapping[str, Rule]] = {
    "home": {
        "people": whole(1, 30),
        "bathrooms": number("0.5", "20"),
        "waste": one_of("septic", "sewer"),
        "piping": one_of("copper", "galvanized", "plastic"),
        "state": a_state,
        "language": one_of("en", "es"),
        "elevation_ft": number("-300", "14500"),
        "farmed_nearby": yes_or_no,
        "animals": many_of(lambda: ANIMALS),
        "persons": many_of(lambda: PERSONS),
    },
    "well": {
        "kind": one_of("drilled", "bored", "dug", "driven", "spring"),
        "pump_gpm": number("0.1", "100"),
        "pressure_psi": pressures,
        "yield_gpm": number("0.05", "500"),
        "water_temperature_c": number("0", "40"),
        "depth_ft": number("1", "5000"),
        "casing_in": number("1", "72"),
        "static_ft": number("0", "3000"),
        "aquifer": one_of("bedrock", "gravel"),
        "gauge_psi": number("0", "150"),
        "drawdown": timed,
        "flooded": yes_or_no,
        "shocked_days_ago": whole(0, 36500),
        "bucket": timed,
    },
    "tap": {"observations": many_of(lambda: OBSERVATIONS)},
    "equipment": {"in_place": many_of(stage_names), "after": many_of(stage_names)},
    "levels": {"packs": names, "as_of": a_day},
    "wishes": {
        "scope": one_of("whole_house", "drinking_water"),
        "no_salt": yes_or_no,
        "no_chemicals": yes_or_no,
    },
}
UNIT_KEYS: Mapping[str, Rule] = {
    "stage": a_stage,
    "tank_in": number("4", "48"),
    "medium": one_of(*MEDIA),
    "media_ft3": number("0.1", "30"),
    "metered": yes_or_no,
    "salt_lb": number("0", "100"),
    "age_years": number("0", "60"),
}
SAMPLE_KEYS: Mapping[str, Rule] = {"taken": one_of(*TAKEN), "after": many_of(stage_names)}
