"""Tests that a well should have had: which fit it, and why and how they are made."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from verdicts.homes import home

from welltold.site import Home, Site, Tap, Well

if TYPE_CHECKING:
    from .conftest import Bench

# --- what was not tested


def missing(bench: Bench, site: Site | None = None, *rows: Any) -> list[str | None]:
    found = bench.view(*rows, site=site, sample={"taken": "first_draw"}).findings
    return [f.analyte for f in found if f.verdict == "not_tested"]


@pytest.mark.parametrize(
    ("site", "rows", "wanted", "among"),
    [
        (Site(), (("total_coliform", "Present"),), "e_coli", 1),
        (Site(), (("ph", "5.9", "SU"),), "lead", 4),
        (Site(), (("ph", "5.9", "SU"),), "copper", 4),
        (Site(well=Well(aquifer="bedrock")), (), "arsenic", 4),
        (Site(well=Well(aquifer="bedrock")), (), "uranium", 4),
        (home("infant"), (), "lead", 4),
        (home("infant"), (), "manganese", 5),
        (home(farmed_nearby=True), (("nitrate", "8", "mg/L", "N"),), "atrazine", 4),
        (Site(home=Home(farmed_nearby=True), well=Well(kind="dug")), (), "atrazine", 4),
        (Site(tap=Tap(("fuel_or_solvent_smell",))), (), "benzene", 4),
        (Site(tap=Tap(("milky_spurting",))), (), "methane", 4),
        (Site(tap=Tap(("rotten_egg_cold",))), (), "hydrogen_sulfide", 4),
        (Site(), (("gross_alpha", "18", "pCi/L"),), "uranium", 4),
        (Site(), (("gross_alpha", "9", "pCi/L"),), "radium_226", 4),
        (Site(), (("radium_226", "4", "pCi/L"),), "radium_228", 4),
        (Site(), (("uranium", "60", "ug/L"),), "radon", 4),
        (home("home_dialysis"), (), "aluminum", 4),
        (home("low_sodium_diet"), (), "sodium", 4),
        (Site(well=Well(aquifer="bedrock")), (("uranium", "2", "ug/L"),), "radon", 4),
    ],
)
def test_the_list_of_missing_tests_fits_the_well(
    bench: Bench, site: Site, rows: tuple[tuple[str, ...], ...], wanted: str, among: int
) -> None:
    listed = missing(bench, site, *(bench.result(*row) for row in rows))
    assert wanted in listed[:among]
    assert len(listed) <= 8


def test_what_was_tested_is_not_listed(bench: Bench) -> None:
    site = home(farmed_nearby=True)
    rows = [bench.result("nitrate", "8", "mg/L", "N"), bench.result("simazine", "<0.1", "ug/L")]
    assert not {"atrazine", "nitrate"} & set(missing(bench, site, *rows))


def test_each_missing_test_says_why_and_how_and_for_how_long(bench: Bench) -> None:
    for finding in bench.view().findings:
        why, how = finding.why
        assert why.code.startswith("verdict.untested_")
        assert how.code.startswith("verdict.how_")
