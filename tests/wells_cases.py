"""The worked wells of ``tests/wells``: each case as a typed sheet and a site file."""

from __future__ import annotations

import csv
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import welltold
from welltold.errors import SiteFileError
from welltold.interpretation import Interpretation, SampleView
from welltold.site import Site, load_site

FOLDER = Path(__file__).parent / "wells"
COLUMNS = (
    "sample,point,collected,taken,analyte,result,result_again,unit,basis,method,reporting_limit"
)
AS_CACO3 = ("hardness", "alkalinity")
Case = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Told:
    """What the program says of one well; ``refused``: the key of the site file it does not take."""

    case: Case
    view: Interpretation | None
    refused: str | None = None

    @property
    def sample(self) -> SampleView:
        """The one sample; only where the site file was taken."""
        assert self.view is not None
        return self.view.samples[0]


@cache
def cases() -> tuple[Case, ...]:
    """Return every worked well, in the order of the files."""
    return tuple(
        well
        for path in sorted(FOLDER.glob("*.toml"))
        for well in tomllib.loads(path.read_text("utf-8"))["well"]
    )


def tell(case: Case, folder: Path) -> Told:
    """Return what the program says of a case; its files are written into ``folder``."""
    try:
        site = site_of(case, folder)
    except SiteFileError as error:
        return Told(case, None, str(error))
    sheet = folder / "sheet.csv"
    with sheet.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(COLUMNS.split(","))
        writer.writerows(_row(name, text) for name, text in case["sheet"].items())
    return Told(case, welltold.interpret(welltold.read(sheet), site=site))


def site_of(case: Case, folder: Path) -> Site:
    """Return the site of a case; SiteFileError."""
    path = folder / "site.toml"
    lines = []
    for section, keys in case.get("site", {}).items():
        lines.append(f"[{section}]")
        lines += [f"{key} = {_toml(value)}" for key, value in keys.items()]
    path.write_text("\n".join(lines), "utf-8")
    return load_site(path)


def _row(name: str, text: str) -> tuple[str, ...]:
    slug, _, kind = name.partition(" ")
    value, _, rest = text.partition(" ")
    unit, _, basis = rest.partition(" as ")
    if slug in AS_CACO3:
        basis = "CaCO3"
    if slug == "silica":
        basis = "SiO2"
    if text in {"present", "absent"}:
        value, unit = text.title(), ""
    label = slug.replace("_", " ") + (", dissolved" if kind == "dissolved" else "")
    method = "field" if kind == "field" else ""
    return ("S1", "", "", "", label, value, value, unit, basis, method, "")


def _toml(value: Any) -> str:
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{key} = {_toml(one)}" for key, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(_toml(one) for one in value) + "]"
    if isinstance(value, bool):
        return str(value).lower()
    return f'"{value}"' if isinstance(value, str) else str(value)
