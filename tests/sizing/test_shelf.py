"""A dealer's shelf: rows read, bad ones told, sizes picked from it, claims beyond limits."""

from __future__ import annotations

from dataclasses import fields
from decimal import Decimal
from pathlib import Path

import pytest
from sizing.waters import hard, home, water
from typer.testing import CliRunner

from welltold.command.app import app
from welltold.errors import FileMissingError, ShelfFileError
from welltold.sizing import Item, Shelf, load_shelf, shelf_template, size_stage

D = Decimal
HEAD = "name,stage,medium,tank_in,media_ft3,service_gpm,backwash_gpm,max_iron_mg_l,price\n"


def shelf(folder: Path, text: str) -> Shelf:
    path = folder / "shelf.csv"
    path.write_text(text, "utf-8")
    return load_shelf(path)


def test_the_template_is_a_shelf_and_names_every_column(tmp_path: Path) -> None:
    with pytest.raises(ShelfFileError, match="no row of what you sell"):
        shelf(tmp_path, shelf_template())
    rows = ("# softener 48k", "# air injection 10")
    lines = shelf_template().splitlines()
    used = [line.removeprefix("# ") if line.startswith(rows) else line for line in lines]
    told = shelf(tmp_path, "\n".join(used))
    assert [item.stage for item in told.items] == ["softener", "air_injection_filter"]
    assert told.problems == ()
    remarks = [line for line in shelf_template().splitlines() if line.startswith("#")]
    for field in fields(Item):
        if field.name != "line":
            assert any(field.name in line.split() for line in remarks), field.name


def test_the_command_writes_the_template() -> None:
    done = CliRunner().invoke(app, ["template", "shelf"])
    assert done.exit_code == 0
    assert done.stdout == shelf_template()


@pytest.mark.parametrize(
    ("row", "says"),
    [
        ("A,softner,resin", "Line 3, stage"),
        ("A,softener,resine", "Line 3, medium"),
        ("A,softener,resin,ten", "Line 3, tank_in"),
        ("A,softener,resin,10,0", "Line 3, media_ft3"),
        ("A,softener,resin,10,-1", "Line 3, media_ft3"),
        ("A,softener,resin,nan", "Line 3, tank_in"),
        ("A,softener,resin,inf", "Line 3, tank_in"),
        (",softener,resin", "Line 3, name"),
        ("A,,resin", "Line 3, stage"),
        ("Good,softener,resin", 'Line 3, name: "Good"'),
        ("A,softener,,,,,,,,extra", "Line 3, column 10"),
    ],
)
def test_a_bad_row_is_told_by_line_and_column_and_the_good_ones_are_used(
    tmp_path: Path, row: str, says: str
) -> None:
    told = shelf(tmp_path, HEAD + "Good,softener,resin,10,1.5\n" + row + "\nLast,uv\n")
    assert [(item.line, item.name) for item in told.items] == [(2, "Good"), (4, "Last")]
    assert len(told.problems) == 1
    assert told.problems[0].text.startswith(says)


def test_remarks_blank_lines_marks_and_semicolons(tmp_path: Path) -> None:
    text = "\ufeff# mine\n\nName;Stage;tank_in\n\n# old\nA;softener;10\n"
    told = shelf(tmp_path, text)
    assert [(item.line, item.name, item.tank_in) for item in told.items] == [(6, "A", D(10))]


def test_a_cell_with_a_comma_and_a_line_break(tmp_path: Path) -> None:
    told = shelf(tmp_path, 'name,stage\n"Soft, the\nlarge one",softener\nB,uv\n')
    assert [(item.line, item.name) for item in told.items] == [
        (3, "Soft, the\nlarge one"),
        (4, "B"),
    ]


@pytest.mark.parametrize(
    ("text", "problem"),
    [
        ("", "no row"),
        ("# nothing\n", "no row"),
        ("name,stge\n", 'did you mean "stage"'),
        ("name,tank_in\n", "stage is missing"),
        ("name,stage,name\n", "twice"),
    ],
)
def test_a_file_without_columns_cannot_be_used(tmp_path: Path, text: str, problem: str) -> None:
    with pytest.raises(ShelfFileError, match=problem):
        shelf(tmp_path, text)


def test_a_missing_or_foreign_file(tmp_path: Path) -> None:
    with pytest.raises(FileMissingError):
        load_shelf(tmp_path / "none.csv")
    foreign = tmp_path / "foreign.csv"
    foreign.write_bytes(b"\xff\xfe\x00\x01")
    with pytest.raises(ShelfFileError, match="UTF-8"):
        load_shelf(foreign)


def test_sizes_come_from_the_shelf(tmp_path: Path) -> None:
    """4 people at 20 gpg need 1.75 cubic feet: the 2.5 of line 3, not the 1.5 of line 2."""
    told = shelf(tmp_path, HEAD + "Small,softener,resin,10,1.5\nLarge,softener,resin,13,2.5\n")
    sized = size_stage("softener", ["hardness"], hard("20"), home(), told)
    assert sized.size["shelf_item"] == "Large"
    assert (sized.size["tank_in"], sized.size["media_ft3"]) == (13, D("2.5"))
    assert {one.of: one.citation for one in sized.worked}["size.shelf_item"].endswith("3: Large")


def test_the_claimed_backwash_counts_where_it_is_higher(tmp_path: Path) -> None:
    row = "Iron 10,greensand_filter,greensand,12,2,7,{}\n"
    site = home(4, "2", "9")
    inlet = water(iron="2")
    for claimed, fits in (("3", True), ("8", True), ("9.5", None)):
        sized = size_stage(
            "greensand_filter", ["iron"], inlet, site, shelf(tmp_path, HEAD + row.format(claimed))
        )
        assert ("shelf_item" in sized.size) is bool(fits), claimed
        if fits:
            expected = max(D(claimed), D("7.85"))
            assert sized.size["backwash_gpm"] == expected


def test_nothing_on_the_shelf_fits(tmp_path: Path) -> None:
    told = shelf(tmp_path, HEAD + "Huge,greensand_filter,greensand,24,10,30\n")
    sized = size_stage("greensand_filter", ["iron"], water(iron="2"), home(4, "2", "9"), told)
    last = sized.conditions[-1]
    assert last.holds is False
    assert "shelf" in last.asks
    assert "pump gives 9 gpm" in last.has
    assert sized.size["tank_in"] == 12, "the generic size stands beside it"
    empty = size_stage("uv", ["bacteria"], water(), home(), told)
    assert empty.conditions[-1].has == "nothing for this stage"


def test_water_beyond_a_claim_leaves_the_item_out(tmp_path: Path) -> None:
    told = shelf(tmp_path, HEAD + "Iron 5,greensand_filter,greensand,12,2,7,8,5\n")
    assert "shelf_item" in size_stage("greensand_filter", [], water(iron="5"), home(), told).size
    beyond = size_stage("greensand_filter", [], water(iron="5.1"), home(), told)
    assert "shelf_item" not in beyond.size
    assert "5.1" in beyond.conditions[-1].has


def test_water_harder_than_an_item_is_sold_for_leaves_it_out(tmp_path: Path) -> None:
    head = "name,stage,medium,tank_in,media_ft3,max_hardness_gpg\n"
    told = shelf(tmp_path, head + "Soft 30,softener,resin,12,2,30\n")
    assert size_stage("softener", [], hard("29"), home(), told).size["shelf_item"] == "Soft 30"
    beyond = size_stage("softener", [], hard("31"), home(), told)
    assert "shelf_item" not in beyond.size
    assert "has 31, the limit claimed for it is 30" in beyond.conditions[-1].has


def test_a_claim_beyond_the_published_limit_is_told(tmp_path: Path) -> None:
    """The stage's published limit for greensand is 10 mg/L of iron."""
    told = shelf(tmp_path, HEAD + "Iron 30,greensand_filter,greensand,12,2,7,8,30\n")
    sized = size_stage("greensand_filter", [], water(iron="2"), home(), told)
    assert any("claims 30 mg/L" in one.text and "10 mg/L" in one.text for one in sized.cautions)


def test_claims_that_no_salt_can_keep(tmp_path: Path) -> None:
    """30,000 grains a cubic foot end the tables; 5,994 a pound is the most that salt has."""
    head = "name,stage,medium,tank_in,media_ft3,capacity_grains,salt_lb\n"
    text = head + "Wonder,softener,resin,10,1.5,64000,10\n"
    sized = size_stage("softener", [], hard("10"), home(), shelf(tmp_path, text))
    codes = {one.code for one in sized.cautions}
    assert {"sizing.shelf_claim_grains", "sizing.shelf_claim_salt"} <= codes


@pytest.mark.parametrize(
    ("stage", "column", "small", "enough"),
    [
        ("uv", "service_gpm", "6.9", "7"),
        ("retention_tank", "tank_gal", "139", "140"),
        ("reverse_osmosis", "makes_gpd", "3", "50"),
        ("sediment_filter", "service_gpm", "5", "10"),
    ],
)
def test_stages_without_a_bed(
    tmp_path: Path, stage: str, column: str, small: str, enough: str
) -> None:
    text = (
        f"name,stage,{column}\nSmall,{stage},{small}\nEnough,{stage},{enough}\nMore,{stage},9000\n"
    )
    sized = size_stage(stage, [], water(uv_transmittance="90"), home(), shelf(tmp_path, text))
    assert sized.size["shelf_item"] == "Enough"


def test_the_cheaper_of_two_alike(tmp_path: Path) -> None:
    rows = "Dear,softener,resin,12,2,,,,900\nCheap,softener,resin,12,2,,,,700\n"
    sized = size_stage("softener", [], hard("20"), home(), shelf(tmp_path, HEAD + rows))
    assert sized.size["shelf_item"] == "Cheap"


def test_an_empty_shelf_is_told() -> None:
    sized = size_stage("softener", [], hard("20"), home(), Shelf())
    assert sized.conditions[-1].has == "nothing for this stage"
    assert size_stage("chlorine_feed", [], water(iron="2"), home(), Shelf()).settings
