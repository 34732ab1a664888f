"""Doubts at the name of a value that was read from a picture."""

from __future__ import annotations

import pytest

from welltold_parsers.scan.beside import _twin


@pytest.mark.parametrize(
    ("label", "other"),
    [("TI", "Tl"), ("Tl", "TI"), ("Ti", "Tl"), ("AI", "Al"), ("Tl, dissolved", "TI")],
)
def test_a_symbol_that_looks_like_another_is_told(label: str, other: str) -> None:
    assert _twin(label) == other


@pytest.mark.parametrize("label", ["Pb", "Total Iron", "Titanium", "Fe", "pH", "Al", "Cl"])
def test_a_symbol_without_a_known_twin_is_left_alone(label: str) -> None:
    assert _twin(label) is None
