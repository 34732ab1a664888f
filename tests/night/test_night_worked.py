"""Nights worked by hand; the arithmetic stands beside each."""

from __future__ import annotations

from decimal import Decimal

from welltold.interpretation import Stage
from welltold.night import night_of
from welltold.night.play import play, together
from welltold.night.remedy import mend
from welltold.night.supply import Supply
from welltold.night.washes import Draw, Wash, washes
from welltold.site import Site, Well

D = Decimal
FILTER, SOFTENER = "air_injection_filter", "softener"


def bed(stage: str, gpm: str, minutes: int = 10, **settings: str) -> Stage:
    told = {"backwash_minutes": D(minutes), **{name: D(at) for name, at in settings.items()}}
    size = {"backwash_gpm": D(gpm), "tanks": D(1)}
    return Stage(stage, "whole_house", (), (), size=size, settings=told)


def softener() -> Stage:
    return bed(
        SOFTENER,
        "2",
        brine_minutes="60",
        brine_gpm="0.5",
        rinse_minutes="10",
        refill_minutes="14",
        refill_gpm="0.5",
    )


def site(**well: D) -> Site:
    return Site(well=Well(**well))  # type: ignore[arg-type]  # each test names real fields


def test_a_pump_of_7_on_a_well_of_2_cannot_give_10_for_10_minutes() -> None:
    """Rule of the trade: check yield x time as well as the pump.

    10 gpm x 10 min = 100 gal, a flush 1.6: 101.6. No water in the casing was told, so the well
    gives 2 gpm: 20 gal, 81.6 too little, from the first minute on. Stored: 101.6 -> 110 gal, and
    10 + 1.6 = 11.6 -> 12 gpm. A day gives 2 x 1440 = 2880 gal, more than enough to fill it.
    """
    wanted = [bed(FILTER, "10")]
    night = night_of(site(pump_gpm=D(7), yield_gpm=D(2)), wanted)
    assert night is not None
    assert (night.shortfall, night.shortfall_stage) == (120, FILTER)
    played = play(Supply(700, 200, 0, 600), together(washes(wanted)))
    assert sum(minute.needed for minute in played.minutes) == 10160
    assert sum(minute.gets for minute in played.minutes[:130]) == 2000
    assert night.remedy == "storage"
    assert night.why[-1].args == {"gal": "110", "gpm": "12"}
    assert night.shortfall_after is None


def test_the_casing_lends_for_eight_minutes() -> None:
    """6 in casing, 1.4688 gal/ft; 200 - 138 - 10 above the bottom = 52 ft: 76.37 gal.

    10 gpm out, 1 in: 9 less each minute. After 8 min 76.37 - 72 = 4.37. In the ninth 4.37 + 1 =
    5.37 < 10: short at minute 120 + 8. In all 76.37 + 10 x 1 = 86.37 gal come up.
    """
    told = {"depth_ft": D(200), "static_ft": D(138), "casing_in": D(6)}
    night = night_of(site(pump_gpm=D(10), yield_gpm=D(1), **told), [bed(FILTER, "10")])
    assert night is not None
    assert night.shortfall == 128
    told_steps = [(at.minute, at.gets_gpm, at.well_gal) for at in night.series[1:4]]
    assert told_steps == [
        (120, D(10), D("76.37")),
        (128, D("5.37"), D("4.37")),
        (129, D(1), D(0)),
    ]
    assert night.why[0].args["minutes"] == "8"
    assert night.why[0].args["clock"] == "02:08"


def test_filter_and_softener_at_one_clock_are_set_apart() -> None:
    """5.5 + 2 = 7.5 > 7 at 02:00. Apart: 00:00 for 10 + 5 min, then 00:15.

    A flush in minute 9: 5.5 + 1.6 = 7.1 > 7, but the tank has 6 gal by then (9 x 1.5 > 6) and
    lends the rest.
    """
    night = night_of(site(pump_gpm=D(7)), [bed(FILTER, "5.5", rinse_minutes="5"), softener()])
    assert night is not None
    assert night.shortfall == 120
    assert night.remedy == "stagger"
    assert [(at.stage, at.night, at.minute) for at in night.timetable] == [
        (FILTER, 1, 0),
        (SOFTENER, 1, 15),
    ]
    assert night.shortfall_after is None
    assert all(at.well_gal is None for at in night.series)


def test_a_toilet_alone_is_told_and_mended_by_nothing() -> None:
    """The pump gives just the 5.5 of the bed; 5.5 + 1.6 in minute 129 is a dip of one minute."""
    night = night_of(site(pump_gpm=D("5.5")), [bed(FILTER, "5.5")])
    assert night is not None
    assert (night.shortfall, night.remedy) == (129, "none")
    assert [message.code for message in night.why] == ["night.dip"]


def test_the_second_wash_waits_until_the_well_is_back() -> None:
    """6 gpm x 10 min from 51.6 gal that refill at 1 gpm.

    After the first: 51.6 - 50 = 1.6. The second needs 60 = 10 that run in + 50 that stand there:
    48.4 min later, minute 58.4; the next quarter of an hour is minute 60, full at 51.6.
    """
    supply = Supply(600, 100, 5160, 0)
    two = [Wash("one", Draw(10, 600)), Wash("two", Draw(10, 600))]
    mended = mend(supply, two, play(supply, together(two)))
    assert mended.remedy == "stagger"
    assert [placed.start for placed in mended.nights[0]] == [0, 60]
    assert [mended.worst.minutes[at].well for at in (9, 59, 69)] == [160, 5160, 160]


def test_no_wash_begins_while_another_draws_brine() -> None:
    """10 min of backwash and 60 of brine end at minute 70; the next quarter is minute 75.

    The pump of 7 gpm would carry 6 + 0.5 at once, but two valves do not run together.
    """
    supply = Supply(700, 700, 0, 0)
    two = [Wash("one", Draw(10, 600), (Draw(60, 50),)), Wash("two", Draw(10, 600))]
    mended = mend(supply, two, play(supply, together(two)))
    assert [placed.start for placed in mended.nights[0]] == [0, 75]


def test_a_well_that_is_not_back_by_morning_washes_one_bed_a_night() -> None:
    """60 gal stand there, 0.1 gpm runs in: 36 gal by 6 o'clock, and a second wash wants 60 - 1."""
    supply = Supply(600, 10, 6000, 0)
    two = [Wash("one", Draw(10, 600)), Wash("two", Draw(10, 600))]
    mended = mend(supply, two, play(supply, together(two)))
    assert mended.remedy == "nights"
    assert [[placed.start for placed in night] for night in mended.nights] == [[120], [120]]


def test_the_water_that_would_do_is_told_before_anything_is_bought() -> None:
    """4 gpm for 10 min from a well of 2.

    Pump 4: the well lends 10 x 2 = 20; then the pump runs on for a minute, 4 out and 2 in: 22.
    Pump 5: 6 min x 3 = 18, and the tank is full; minute 7 from the tank, +2: 16; minute 8, the
    pump runs for half of it, 2.5 - 2: 16.5; minutes 9, 10 and 11: + 3 each, 25.5, told as 26.
    """
    bare = night_of(site(pump_gpm=D(4), yield_gpm=D(2)), [bed(FILTER, "4")])
    assert bare is not None
    assert bare.why[1].code == "night.standing"
    assert bare.why[1].args == {"gal": "22"}
    strong = night_of(site(pump_gpm=D(5), yield_gpm=D(2)), [bed(FILTER, "4")])
    assert strong is not None
    assert strong.why[1].args == {"gal": "26"}
    told = {"depth_ft": D(30), "static_ft": D(20), "casing_in": D(6)}
    known = night_of(site(pump_gpm=D(4), yield_gpm=D(2), **told), [bed(FILTER, "4")])
    assert known is not None
    assert [message.code for message in known.why[1:2]] == ["night.twins"]


def test_twins_halve_what_the_well_must_give() -> None:
    """4 gpm from a well of 2 is short at once; half the area asks 2, one tank a night."""
    night = night_of(site(pump_gpm=D(7), yield_gpm=D(2)), [bed(FILTER, "4")])
    assert night is not None
    assert night.remedy == "twins"
    assert [(at.night, at.minute, at.minutes) for at in night.timetable] == [
        (1, 120, 10),
        (2, 120, 10),
    ]
    # 2 + 1.6 in the flush minute, from a well of 2
    assert night.shortfall_after == 129
    assert night.why[-1].code == "night.dip_after"


def test_a_dry_well_is_a_job_for_a_contractor() -> None:
    """0.02 gpm is 28.8 gal a day; a wash with a flush is 41.6 gal."""
    night = night_of(site(pump_gpm=D(7), yield_gpm=D("0.02")), [bed(FILTER, "4")])
    assert night is not None
    assert night.remedy == "specialist"
    assert night.timetable == ()
    assert night.shortfall_after == 120


def test_a_storage_tank_that_sizing_chose_carries_the_wash() -> None:
    """300 gal and 10 gpm: 8 gpm x 10 min with a flush is 81.6 gal, whatever the well gives."""
    stored = bed(FILTER, "8")
    assert stored.size is not None
    size = {**stored.size, "storage_gal": D(300), "booster_gpm": D(10)}
    tank = Stage(FILTER, "whole_house", (), (), size=size, settings=stored.settings)
    night = night_of(site(pump_gpm=D(3)), [tank])
    assert night is not None
    assert (night.shortfall, night.remedy) == (None, "none")
    assert night.why[0].code == "night.enough"


def test_the_water_of_a_regeneration_is_that_of_the_handbook() -> None:
    """USDA Water Systems Handbook: 50 to 100 gal. 2 x (10 + 10) + 0.5 x 60 + 0.5 x 14 = 77."""
    (wash,) = washes([softener()])
    assert sum(rate for rate, _ in wash.rates()) == 7700
    assert wash.minutes == 94


def test_tanks_of_one_stage_are_washed_one_after_the_other() -> None:
    twice = Wash(FILTER, Draw(10, 600), (Draw(5, 600),), tanks=2)
    assert twice.minutes == 30
    assert [lifts for _, lifts in twice.rates()].count(True) == 20


def test_without_a_timed_pump_or_a_backwash_there_is_no_night() -> None:
    assert night_of(Site(), [bed(FILTER, "5")]) is None
    assert night_of(site(pump_gpm=D(7)), []) is None
    plain = Stage("uv", "whole_house", (), (), size={"uv_gpm": D(7)}, settings={})
    assert night_of(site(pump_gpm=D(7)), [plain]) is None
