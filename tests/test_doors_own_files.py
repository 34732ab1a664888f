"""A file of settings given as a lab sheet is named as what it is, and nothing is read from it."""

from __future__ import annotations

from importlib.resources import files
from pathlib import Path

import pytest

from welltold.errors import UnknownFileError
from welltold_parsers import read

SITE = "[home]\nbathrooms = 2\n\n[tap]\nwater_temperature_c = 11\n"
LEVELS = '[pack]\nname = "county"\n\n[[level]]\nanalyte = "arsenic"\nvalue = 0.005\n'


def told(folder: Path, text: str) -> str:
    """Return what the refusal of a file says of it."""
    path = folder / "given.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(UnknownFileError) as refused:
        read(path)
    return str(refused.value)


@pytest.mark.parametrize(("text", "option"), [(SITE, "--site"), (LEVELS, "--levels")])
def test_a_filled_file_of_settings_says_with_which_option_it_goes(
    tmp_path: Path, text: str, option: str
) -> None:
    assert option in told(tmp_path, text)


@pytest.mark.parametrize("name", ["site", "letterhead", "levels", "lab"])
def test_a_template_that_nobody_filled_in_is_no_lab_sheet(tmp_path: Path, name: str) -> None:
    template = files("welltold.data").joinpath(f"{name}_template.toml")
    assert "welltold" in told(tmp_path, template.read_text(encoding="utf-8"))


def test_a_sheet_of_names_and_numbers_stays_a_sheet(tmp_path: Path) -> None:
    path = tmp_path / "sheet.txt"
    path.write_text("Iron = 0.31\nManganese = 0.08\nChloride = 21\n", encoding="utf-8")
    (sample,) = read(path).samples
    assert [result.analyte for result in sample.results] == ["iron", "manganese", "chloride"]
