"""A user's own file of levels: strict, told by line and key, named as the user's own."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from importlib.resources import files
from pathlib import Path

import pytest
from typer.testing import CliRunner

from welltold.command.app import app
from welltold.errors import FileMissingError, LevelsFileError
from welltold.levels import Level, load_levels
from welltold.reading import Reading, Result, Sample, Source
from welltold.site import load_site
from welltold.verdicts import interpret

NOW = date(2026, 11, 25)
TEMPLATE = (files("welltold") / "data" / "levels_template.toml").read_text("utf-8")
HEAD = """[pack]
name = "Tamarack County"
whose = "Tamarack County Health Department"
edition = 2026-03-01
"""
LEVEL = """
[[level]]
analyte = "arsenic"
kind = "primary_limit"
value = 0.003
unit = "mg/L"
effect = "cancer"
citation = "sanitary code 4.2"
"""


def write(folder: Path, text: str) -> str:
    path = folder / "my-county.toml"
    path.write_text(text, "utf-8")
    return str(path)


def own(folder: Path, text: str, slug: str = "arsenic", day: date = NOW) -> Level:
    (level,) = (lv for lv in load_levels((write(folder, text),), day).of(slug) if lv.form == "own")
    return level


USED = re.sub(
    r"^#(?=\[|(?:name|whose|edition|analyte|kind|value|unit|effect|citation) = )",
    "",
    TEMPLATE,
    flags=re.M,
)
"""The template with its example taken in."""


def test_the_template_says_nothing_until_it_is_filled_in(tmp_path: Path) -> None:
    with pytest.raises(LevelsFileError, match=r"has no \[pack\]"):
        own(tmp_path, TEMPLATE)


def test_the_template_taken_in_is_a_good_file(tmp_path: Path) -> None:
    level = own(tmp_path, USED)
    assert (level.value, level.unit) == (Decimal("0.005"), "mg/L")
    assert level.role == "health"


def test_every_key_of_the_template_can_be_used(tmp_path: Path) -> None:
    # every remark that is a key, taken in; what excludes one another is taken out again
    text = "\n".join(
        line[1:] if line.startswith("#") and line[1:2].islower() and " = " in line else line
        for line in USED.splitlines()
        if not line.startswith(("#low", "#absent", "#basis"))
    )
    assert "\nuntil" in text
    assert own(tmp_path, text).until == date(2030, 1, 1)


def test_the_strictest_decides_and_is_named_as_the_users_own(tmp_path: Path) -> None:
    path = write(tmp_path, HEAD + LEVEL)
    value = Decimal("0.004")
    result = Result("arsenic", "As", "0.004", "value", operator="=", value=value, unit="mg/L")
    reading = Reading(Source("sheet.csv", "0" * 64, "csv", 1), samples=(Sample(results=(result,)),))
    found = interpret(reading, as_of=NOW, packs=(path,)).samples[0].findings[0]
    assert found.verdict == "health_concern"
    assert found.levels[0].programme == "your own file, Tamarack County"
    assert found.levels[0].citation == "your own file: sanitary code 4.2"
    assert any(level.programme == "EPA limit" for level in found.levels)
    assert any("The level in your own file" in message.text for message in found.why)


def test_a_file_that_changes_is_read_again(tmp_path: Path) -> None:
    assert own(tmp_path, HEAD + LEVEL).value == Decimal("0.003")
    assert own(tmp_path, HEAD + LEVEL.replace("0.003", "0.0025")).value == Decimal("0.0025")


def test_a_level_in_another_unit_or_basis_is_the_same_level(tmp_path: Path) -> None:
    # 20 mg/L as nitrate is 4.518 mg/L as nitrogen (20 x 14.007 / 62.004)
    text = HEAD + LEVEL.replace("0.003", "3").replace("mg/L", "ppb")
    assert own(tmp_path, text).value == Decimal("0.003")
    nitrate = (
        LEVEL.replace("arsenic", "nitrate").replace("0.003", "20").replace("mg/L", "mg/L as NO3")
    )
    level = own(tmp_path, HEAD + nitrate, "nitrate")
    assert (round(level.value or 0, 3), level.basis) == (Decimal("4.518"), "N")


def test_without_a_first_day_it_is_not_used_before_its_edition(tmp_path: Path) -> None:
    path = write(tmp_path, HEAD + LEVEL)
    before = load_levels((path,), date(2026, 2, 28))
    assert [level.form for level in before.of("arsenic") if level.form == "own"] == []
    assert "your own file, Tamarack County for arsenic" in before.notes("arsenic")[0].text
    dated = HEAD + LEVEL + "effective = 2020-01-01\nuntil = 2026-01-01\n"
    assert own(tmp_path, dated, day=date(2025, 12, 31)).value == Decimal("0.003")


def test_germs_and_ranges(tmp_path: Path) -> None:
    germs = """
[[level]]
analyte = "enterococci"
kind = "primary_limit"
absent = true
acute = true
effect = "gut illness"
citation = "sanitary code 5"
"""
    assert own(tmp_path, HEAD + germs, "enterococci").op == "absent"
    ph = LEVEL.replace("arsenic", "ph").replace("primary_limit", "secondary")
    ph = ph.replace("0.003", "8.0\nlow = 7.0").replace("mg/L", "SU")
    level = own(tmp_path, HEAD + ph, "ph")
    assert (level.op, level.low, level.value, level.role) == (
        "range",
        Decimal("7.0"),
        Decimal("8.0"),
        "nuisance",
    )


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("value =", "valeu =", ["line 9", "level 1, valeu", 'did you mean "value"']),
        ('"arsenic"', '"arsenik"', ["line 7", "level 1, analyte", 'did you mean "arsenic"']),
        ('"arsenic"', '"As"', ['did you mean "arsenic"']),
        ('"mg/L"', '"mg/Lx"', ["line 10", "level 1, unit", "not a known unit"]),
        ('"mg/L"', '"NTU"', ["level 1, unit", "measure different things"]),
        ('"primary_limit"', '"goal"', ["line 8", "kind", "primary_limit, advisory, secondary"]),
        ('"primary_limit"', '"primary"', ['did you mean "primary_limit"']),
        ("0.003", "0", ["value", "is 0"]),
        ("0.003", "-1", ["value", "out of range"]),
        ("0.003", "nan", ["value", "out of range"]),
        ("0.003", '"0.003"', ["value", "is not a number"]),
        ("value = 0.003", "low = 0.001", ["value", "is missing"]),
        ("value = 0.003", "absent = true", ["absent", "for germs"]),
        ("value = 0.003", "value = 0.003\nlow = 0.001", ["low", "secondary"]),
        ("value = 0.003", "value = 0.003\nacute = 1", ["acute", "true, false"]),
        ("value = 0.003", 'value = 0.003\nuntil = "2030"', ["until", "is not a date"]),
        ("value = 0.003", "value = 0.003\nuntil = 2020-01-01", ["until", "2026-03-01"]),
        ('effect = "cancer"\n', "", ["line 6", "level 1, effect", "is missing"]),
        ('"cancer"', f'"{"c" * 91}"', ["effect", "90 characters"]),
        ('"cancer"', '"unsafe water"', ["effect", "no report does"]),
        ('citation = "sanitary code 4.2"\n', "", ["citation", "is missing"]),
        ('"arsenic"', '"nitrate"', ["basis", "counted in several ways"]),
        ('"arsenic"', '"e_coli"', ["value", "absent = true"]),
        ("[pack]", "[pakc]", ["line 1", "pakc", 'did you mean "pack"']),
        ("edition = 2026-03-01\n", "", ["line 1", "pack, edition", "is missing"]),
        ("edition =", "editon =", ["line 4", 'did you mean "edition"']),
        ("[[level]]", "[level]", ["[[level]] for each level"]),
        (LEVEL, "", ["has no level"]),
        ("0.003", "0,003", ["TOML", "line 9"]),
    ],
)
def test_a_mistake_is_told_by_line_and_key(
    tmp_path: Path, old: str, new: str, told: list[str]
) -> None:
    good = HEAD + LEVEL
    assert old in good
    with pytest.raises(LevelsFileError) as caught:
        load_levels((write(tmp_path, good.replace(old, new, 1)),), NOW)
    assert "my-county.toml" in str(caught.value)
    for words in told:
        assert words in str(caught.value)


def test_the_second_level_is_told_by_its_own_line(tmp_path: Path) -> None:
    text = HEAD + LEVEL + LEVEL.replace("arsenic", "plutoniumm")
    with pytest.raises(LevelsFileError, match=r"line 15, level 2, analyte"):
        load_levels((write(tmp_path, text),), NOW)


def test_a_missing_file_and_one_that_is_no_text(tmp_path: Path) -> None:
    with pytest.raises(FileMissingError, match=r"nowhere\.toml"):
        load_levels((str(tmp_path / "nowhere.toml"),), NOW)
    (tmp_path / "bytes.toml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(LevelsFileError, match="not UTF-8"):
        load_levels((str(tmp_path / "bytes.toml"),), NOW)


def test_a_folder_and_levels_that_are_written_as_one_line(tmp_path: Path) -> None:
    (tmp_path / "folder.toml").mkdir()
    with pytest.raises(FileMissingError, match=r"folder\.toml"):
        load_levels((str(tmp_path / "folder.toml"),), NOW)
    with pytest.raises(LevelsFileError, match=r"line 1, level 1, kind: is missing"):
        load_levels((write(tmp_path, 'level = [{analyte = "lead"}]\n' + HEAD),), NOW)
    with pytest.raises(LevelsFileError, match="is not a list of levels"):
        load_levels((write(tmp_path, "level = [3]\n" + HEAD),), NOW)


def test_a_file_saved_on_another_system_is_read(tmp_path: Path) -> None:
    (tmp_path / "windows.toml").write_bytes(
        b"\xef\xbb\xbf" + (HEAD + LEVEL).replace("\n", "\r\n").encode()
    )
    known = load_levels((str(tmp_path / "windows.toml"),), NOW)
    assert known.of("arsenic")[0].value == Decimal("0.003")


def test_a_site_file_finds_its_own_levels_beside_it(tmp_path: Path) -> None:
    path = write(tmp_path, HEAD + LEVEL)
    site = tmp_path / "site.toml"
    site.write_text('[levels]\npacks = ["us_federal", "my-county.toml"]\n', "utf-8")
    packs = load_site(site).levels.packs
    assert packs == ("us_federal", path)
    assert any(level.form == "own" for level in load_levels(packs, NOW).of("arsenic"))


def test_the_command_writes_the_template_and_reads_it(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    runner = CliRunner()
    assert runner.invoke(app, ("template", "levels", "--out", str(path))).exit_code == 0
    assert path.read_text("utf-8") == TEMPLATE
    path.write_text(USED, "utf-8")
    shown = runner.invoke(app, ("levels", "--levels", str(path), "arsenic"), catch_exceptions=False)
    assert "Tamarack County" in shown.output
    listed = runner.invoke(app, ("levels", "--list", "--levels", str(path)), catch_exceptions=False)
    assert "Tamarack County Health" in listed.output
