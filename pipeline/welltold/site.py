"""The site file: what is known about the home, the well and what the owner wants.

TOML; every key is optional; names and values are fixed and stand in ``site_keys``. ``Site()`` is
"nothing known". A list that is empty, and a field that is None, was not given.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields, is_dataclass, replace
from datetime import date
from decimal import Decimal
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal, cast

from .errors import SiteFileError
from .interpretation import Person
from .messages import say
from .own_text import meant, near, own_text, told
from .reading import Taken
from .site_keys import KEYS, SAMPLE_KEYS, UNIT_KEYS, Rule, Timed, WrongValueError


@dataclass(frozen=True, slots=True)
class Home:
    """Who lives there, and in what kind of house."""

    people: int | None = None
    bathrooms: Decimal | None = None
    waste: Literal["septic", "sewer"] | None = None
    piping: Literal["copper", "galvanized", "plastic"] | None = None
    state: str | None = None
    language: Literal["en", "es"] | None = None
    elevation_ft: Decimal | None = None
    farmed_nearby: bool | None = None
    animals: tuple[str, ...] = ()
    persons: tuple[Person, ...] = ()


@dataclass(frozen=True, slots=True)
class Well:
    """The well, its pump and its pressure tank."""

    kind: Literal["drilled", "bored", "dug", "driven", "spring"] | None = None
    pump_gpm: Decimal | None = None
    pressure_psi: tuple[Decimal, Decimal] | None = None
    """Cut-in and cut-out."""
    yield_gpm: Decimal | None = None
    water_temperature_c: Decimal | None = None
    depth_ft: Decimal | None = None
    casing_in: Decimal | None = None
    static_ft: Decimal | None = None
    aquifer: Literal["bedrock", "gravel"] | None = None
    gauge_psi: Decimal | None = None
    drawdown: Timed | None = None
    flooded: bool | None = None
    shocked_days_ago: int | None = None
    bucket: Timed | None = None
    """Timed at an open tap after the pump has started."""


@dataclass(frozen=True, slots=True)
class Tap:
    """What is seen, smelt and tasted."""

    observations: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class EquipmentUnit:
    """One piece of equipment that is in the house already."""

    stage: str
    tank_in: Decimal | None = None
    medium: str | None = None
    media_ft3: Decimal | None = None
    metered: bool | None = None
    salt_lb: Decimal | None = None
    age_years: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Equipment:
    """What is in the house already."""

    in_place: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    """The stages in front of the tap at which the samples were taken."""
    unit: tuple[EquipmentUnit, ...] = ()


@dataclass(frozen=True, slots=True)
class LevelsChoice:
    """Which published levels to compare with, and as of when."""

    packs: tuple[str, ...] = ()
    as_of: date | None = None


@dataclass(frozen=True, slots=True)
class SampleFacts:
    """Facts about one sample of several."""

    taken: Taken | None = None
    after: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the owner wants."""

    scope: Literal["whole_house", "drinking_water"] | None = None
    no_salt: bool | None = None
    no_chemicals: bool | None = None


@dataclass(frozen=True, slots=True)
class Site:
    """Everything that is known beside the lab sheet."""

    home: Home = Home()
    well: Well = Well()
    tap: Tap = Tap()
    equipment: Equipment = Equipment()
    levels: LevelsChoice = LevelsChoice()
    samples: Mapping[str, SampleFacts] = field(default_factory=dict)
    """By the lab's sample number, exactly as printed."""
    wishes: Wishes = Wishes()

    def as_dict(self) -> dict[str, Any]:
        """Return what was given, in the site file's own names; dates as ISO 8601 text."""
        return cast("dict[str, Any]", _given(self))


def load_site(path: str | Path) -> Site:
    """Return the site file as a Site; FileMissingError, SiteFileError."""
    name = str(path)
    no_text = SiteFileError(name, told("the_file"), told("not_text"), _listed(_SECTIONS))
    text = own_text(path, no_text)
    try:
        raw = tomllib.loads(text, parse_float=Decimal)
    except tomllib.TOMLDecodeError as error:
        last = told("toml_last", line=len(text.splitlines()))
        problem = told("toml", problem=str(error).replace("at end of document", last))
        problem += _bare_word(text, str(error))
        raise SiteFileError(name, "TOML", problem, _listed(_SECTIONS)) from None
    return _beside(_Reader(name).site(raw), Path(path).parent)


def _beside(site: Site, folder: Path) -> Site:
    """Return the site with its own files of levels sought in the folder of the site file."""
    packs = tuple(
        str(folder / pack) if pack.endswith(".toml") else pack for pack in site.levels.packs
    )
    return replace(site, levels=replace(site.levels, packs=packs))


def site_template() -> str:
    """Return the commented site file, with every key explained."""
    return (files("welltold") / "data" / "site_template.toml").read_text("utf-8")


_SECTIONS = ("home", "well", "tap", "equipment", "levels", "samples", "wishes")


@dataclass(frozen=True, slots=True)
class _Reader:
    """Turns one parsed file into a Site; knows the file's name for the complaints."""

    path: str

    def site(self, raw: Mapping[str, object]) -> Site:
        for section in raw:
            self._known(section, section, _SECTIONS)
        equipment = self._equipment(raw.get("equipment", {}))
        well = Well(**self._keys("well", raw.get("well", {}), KEYS["well"]))
        self._agree(well)
        return Site(
            home=Home(**self._keys("home", raw.get("home", {}), KEYS["home"])),
            well=well,
            tap=Tap(**self._keys("tap", raw.get("tap", {}), KEYS["tap"])),
            equipment=equipment,
            levels=LevelsChoice(**self._keys("levels", raw.get("levels", {}), KEYS["levels"])),
            samples=self._samples(raw.get("samples", {})),
            wishes=Wishes(**self._keys("wishes", raw.get("wishes", {}), KEYS["wishes"])),
        )

    def _keys(self, at: str, raw: object, rules: Mapping[str, Rule]) -> dict[str, Any]:
        """Return the values of one section; every complaint names ``section.key``."""
        table = self._table(at, raw, rules)
        values: dict[str, Any] = {}
        for key, value in table.items():
            place = f"{at}.{key}"
            self._known(place, key, rules)
            try:
                values[key] = rules[key](value)
            except WrongValueError as wrong:
                question = meant(wrong.near) or near(wrong.missed, wrong.known.split(", "))
                raise SiteFileError(
                    self.path, place, wrong.problem + question, wrong.known
                ) from None
        return values

    def _equipment(self, raw: object) -> Equipment:
        table = dict(self._table("equipment", raw, (*KEYS["equipment"], "unit")))
        units = table.pop("unit", [])
        if not isinstance(units, list):
            raise SiteFileError(self.path, "equipment.unit", told("not_list"), told("each_unit"))
        known = (*KEYS["equipment"], "unit")
        for key in table:
            self._known(f"equipment.{key}", key, known)
        return Equipment(
            **self._keys("equipment", table, KEYS["equipment"]),
            unit=tuple(self._unit(number, unit) for number, unit in enumerate(units, start=1)),
        )

    def _unit(self, number: int, raw: object) -> EquipmentUnit:
        place = f"equipment.unit {number}"
        values = self._keys(place, raw, UNIT_KEYS)
        if "stage" not in values:
            raise SiteFileError(self.path, place, told("no_stage"), _listed(UNIT_KEYS))
        return EquipmentUnit(**values)

    def _samples(self, raw: object) -> dict[str, SampleFacts]:
        table = self._table("samples", raw, (told("each_sample"),))
        return {
            str(key): SampleFacts(**self._keys(f'samples."{key}"', facts, SAMPLE_KEYS))
            for key, facts in table.items()
        }

    def _table(self, place: str, raw: object, known: Iterable[str]) -> Mapping[str, object]:
        if not isinstance(raw, Mapping):
            raise SiteFileError(self.path, place, told("no_section"), _listed(known))
        return raw

    def _known(self, place: str, key: str, known: Iterable[str]) -> None:
        if key not in known:
            problem = told("unknown_name", near=near(key, known))
            raise SiteFileError(self.path, place, problem, _listed(known))

    def _agree(self, well: Well) -> None:
        """Complain about a water level below the bottom of the well."""
        deep, water = well.depth_ft, well.static_ft
        if deep is not None and water is not None and water > deep:
            problem = told("deeper", water=water, deep=deep)
            known = told("range", low=0, high=deep)
            raise SiteFileError(self.path, "well.static_ft", problem, known)


def _bare_word(text: str, error: str) -> str:
    """Return what to do about a word without quotes, if that is what a TOML error is about."""
    lines, at = text.splitlines(), re.search(r"line (\d+)", error)
    line = lines[int(at[1]) - 1] if at and int(at[1]) <= len(lines) else ""
    bare = re.match(r"\s*([\w.-]+)\s*=\s*([^\W\d][\w -]*)", line)
    if bare is None:
        return ""
    return f"; {say('site.needs_quotes', key=bare[1], word=bare[2].strip()).text}"


def _listed(known: Iterable[str]) -> str:
    return ", ".join(known)


def _given(value: object) -> object:
    if is_dataclass(value) and not isinstance(value, type):
        pairs = ((part.name, _given(getattr(value, part.name))) for part in fields(value))
        return {name: given for name, given in pairs if given not in (None, {}, [])}
    if isinstance(value, Mapping):
        return {name: _given(part) for name, part in value.items()}
    if isinstance(value, tuple):
        return [_given(part) for part in value]
    return value.isoformat() if isinstance(value, date) else value
