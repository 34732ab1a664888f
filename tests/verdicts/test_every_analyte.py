"""Whatever a sheet prints for whatever analyte, the answer is a finding with its reason."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from welltold.analytes import registry

if TYPE_CHECKING:
    from .conftest import Bench

TEXTS = ("5", "0", "<0.5", ">5", "ND", "Present", "Absent", "TNTC", "Trace", "-3", "", "???")
UNITS = ("mg/L", "ug/L", "ng/L", "CFU/100mL", "pCi/L", "SU", "NTU", "gpg", "P/A", "%", "bananas")
VERDICTS = {
    "health_concern",
    "watch",
    "nuisance_only",
    "no_concern_found",
    "cant_tell",
    "not_tested",
}


@pytest.mark.parametrize("text", TEXTS)
def test_every_analyte_in_its_own_unit_has_a_verdict_and_a_reason(bench: Bench, text: str) -> None:
    rows = [bench.result(own.slug, text, own.unit, own.basis) for own in registry().values()]
    found = {f.analyte: f for f in bench.view(*rows).findings if f.label == f.analyte}
    assert set(found) == set(registry())
    for finding in found.values():
        assert finding.verdict in VERDICTS
        assert finding.why
        assert (finding.urgency is None) or finding.verdict in {"health_concern", "cant_tell"}


@given(
    slug=st.sampled_from(sorted(registry())),
    text=st.sampled_from(TEXTS),
    unit=st.one_of(st.none(), st.sampled_from(UNITS)),
    basis=st.sampled_from([None, "N", "NO3", "CaCO3", "moon"]),
    fraction=st.sampled_from([None, "total", "dissolved"]),
)
@settings(max_examples=400, deadline=None)
def test_nothing_printed_breaks_the_interpretation(
    bench: Bench, slug: str, text: str, unit: str | None, basis: str | None, fraction: str | None
) -> None:
    finding = bench.judge(bench.result(slug, text, unit, basis, fraction=fraction))
    assert finding.verdict in VERDICTS
    assert all(message.text and "{" not in message.text for message in (*finding.why, *finding.do))


def test_what_was_found_and_has_no_level_is_no_concern_only_where_it_is_a_mineral(
    bench: Bench,
) -> None:
    organic = {"voc", "soc", "pfas", "radionuclide", "dbp"}
    for own in registry().values():
        finding = bench.judge(bench.result(own.slug, "5", own.unit, own.basis))
        if finding.verdict == "no_concern_found" and own.group in organic:
            assert any(level.kind != "goal" for level in finding.levels), own.slug
