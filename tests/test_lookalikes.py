"""What must never be taken for one another, however it is misprinted."""

from __future__ import annotations

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from welltold.analytes import identify, known_names, normalise, registry

LOOK_ALIKES = [
    ("Nitrate", "Nitrite"),
    ("Manganese", "Magnesium"),
    ("Chloride", "Chlorine"),
    ("Chlorite", "Chlorate"),
    ("Chloride", "Chlorite"),
    ("Bromide", "Bromate"),
    ("Sulfate", "Sulfide"),
    ("Sulfide", "Sulfite"),
    ("Radium-226", "Radium-228"),
    ("Thallium", "Thorium"),
    ("Tellurium", "Thallium"),
    ("1,1-Dichloroethylene", "1,1-Dichloroethane"),
    ("1,1-Dichloroethane", "1,2-Dichloroethane"),
    ("cis-1,2-Dichloroethylene", "trans-1,2-Dichloroethylene"),
    ("alpha-BHC", "gamma-BHC"),
    ("Dichloroacetic acid", "Trichloroacetic acid"),
    ("Trichloroethylene", "Tetrachloroethylene"),
    ("Perfluorobutanoic acid", "Perfluorobutanesulfonic acid"),
    ("Perfluorohexanoic acid", "Perfluoroheptanoic acid"),
    ("Total coliform", "Fecal coliform"),
    ("Calcium hardness", "Total hardness"),
    ("Arsenic (III)", "Arsenic (V)"),
    ("Aroclor 1242", "Aroclor 1248"),
    ("o-Xylene", "p-Xylene"),
    ("Aldrin", "Endrin"),
    ("Prometon", "Prometryn"),
    ("Fluorene", "Fluoranthene"),
    ("1,4-Dioxane", "Dioxin"),
]


@pytest.mark.parametrize(("one", "other"), LOOK_ALIKES)
def test_look_alikes_are_two_things(one: str, other: str) -> None:
    first, second = identify(one), identify(other)
    assert first is not None
    assert second is not None
    assert first.slug != second.slug


LETTERS = "abcdefghijklmnopqrstuvwxyz0123456789 ,-"
NAMES = sorted(known_names())


@st.composite
def misprints(draw: st.DrawFn) -> tuple[str, str]:
    """Return a listed name, and the same with one letter wrong, missing, doubled or swapped."""
    name = draw(st.sampled_from(NAMES))
    place = draw(st.integers(0, len(name) - 1))
    letter = draw(st.sampled_from(LETTERS))
    wrong = draw(
        st.sampled_from(
            (
                name[:place] + letter + name[place + 1 :],
                name[:place] + name[place + 1 :],
                name[:place] + letter + name[place:],
                name[:place] + name[place : place + 2][::-1] + name[place + 2 :],
            )
        )
    )
    return name, wrong


@given(misprints())
@example(("nitrate", "nitrte"))
@example(("manganese", "magnanese"))
@example(("nmefosaa", "netfosaa"))
@example(("nitrates as n", "nitrltes as n"))
@example(("carbono organico disuelto", "carbon organico disuelto"))
@example(("alkalinity p", "alkalinityjp"))
@example(("dissolved co2", "dissolvedc o2"))
@example(("2 propenenitrile", "propenenitrile"))
@example(("total phosphate", "total phosphaet"))
@example(("nitrate as n nitrite as n", "nitrate as  nitrite as n"))
@example(("1 1 dichloroethane", "1 1 dichloroethene"))
def test_one_misprint_never_makes_another_analyte_by_likeness(case: tuple[str, str]) -> None:
    name, wrong = case
    true, read = identify(name), identify(wrong)
    assert true is not None
    if read is not None and read.slug != true.slug:
        assert read.how == "exact", (name, wrong, read)


@given(st.text(max_size=40))
def test_any_text_is_answered(text: str) -> None:
    match = identify(text)
    assert match is None or match.slug in registry()
    assert normalise(normalise(text)) == normalise(text)


def test_known_names_are_in_normal_form() -> None:
    assert all(normalise(name) == name for name in known_names())
    assert not known_names() & {"as", "in", "no", "na", "co", "u", "i"}
