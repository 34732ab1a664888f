"""The dealer reads the night on the work sheet."""

from __future__ import annotations

from decimal import Decimal

from lxml.etree import fromstring
from treatment_wells import finding, plan, quiet

from welltold.interpretation import Night, Stage, Train
from welltold.night import night_of
from welltold.site import Home, Site, Well
from welltold_reports.night_chart import night_svg
from welltold_reports.worksheet.night_picture import night_chart
from welltold_reports.worksheet.sizes import pumping

SVG = "{http://www.w3.org/2000/svg}"


def test_the_minute_and_the_remedy_stand_beside_the_pump() -> None:
    site = Site(
        home=Home(people=4, bathrooms=Decimal(2)),
        well=Well(pump_gpm=Decimal(8), yield_gpm=Decimal(2)),
    )
    told = (finding("iron", "3"), finding("hardness", "300"), quiet("ph", "7.4"))
    first = plan(*told, site=site).trains[0]
    assert first.night is not None
    lines = pumping(first)
    assert any(line.startswith("Worst night, 02:00") for line in lines)
    assert first.night.why[-1].text in lines
    assert "The water standing in the well was not told, so none of it counts." in lines
    assert not any("night" in line for line in pumping(plan(*told).trains[0]))


def test_the_picture_marks_the_minute_in_a_place_worked_out_by_hand() -> None:
    """Night of 360 minutes over 450 px from 70: minute 120 lies at 70 + 450 / 3 = 220.

    10 gpm wanted and a flush, 11.6 at most: 10 of it is 80 x 10 / 11.6 = 69 px high.
    """
    chart = night_chart(Train((), night=drawn_night()))
    assert chart is not None
    root = fromstring(night_svg(chart))
    texts = [text.text for text in root.iter(f"{SVG}text")]
    assert texts.count("02:00") == 3  # the mark, and the clock under each panel
    assert "11.6 gpm" in texts
    paths = [path.get("d", "") for path in root.iter(f"{SVG}path")]
    assert "M220.0 60V148" in paths
    assert any("L220.0 79.0H" in path for path in paths)
    assert [len(panel.levels) for panel in chart.panels] == [5, 4]
    assert [panel.short is not None for panel in chart.panels] == [True, False]


def test_the_picture_has_the_same_in_words() -> None:
    chart = night_chart(Train((), night=drawn_night()))
    assert chart is not None
    assert "up to 11.6 gpm is needed, and up to 2 gpm is given" in chart.alt
    assert "A storage tank of 110 gal" in chart.alt
    assert fromstring(night_svg(chart)).get("aria-label") == chart.alt


def drawn_night() -> Night:
    """The pump of 7 gpm on a well of 2, and a bed of 10 gpm."""
    size = {"backwash_gpm": Decimal(10), "tanks": Decimal(1)}
    settings = {"backwash_minutes": Decimal(10)}
    stage = Stage("greensand_filter", "whole_house", (), (), size=size, settings=settings)
    night = night_of(Site(well=Well(pump_gpm=Decimal(7), yield_gpm=Decimal(2))), [stage])
    assert night is not None
    return night
