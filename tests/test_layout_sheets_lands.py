"""Data files of other lands and programs: names, codes, days and places as they are headed there.

All numbers are invented. The chemical notation of valences is that of geochemical programs:
N(5) is nitrate, N(3) nitrite, N(-3) ammonia, S(6) sulfate (PHREEQC version 3, table of master
species).
"""

from __future__ import annotations

from tests.layout_sheets import brief, read_csv

from welltold.reading import Reading


def briefs(reading: Reading) -> list[tuple[str | None, str, str | None, str | None]]:
    """Return the results of all samples, briefly."""
    return [brief(r) for r in reading.results]


def names(reading: Reading) -> list[tuple[str | None, str | None, str | None]]:
    """Return number, place and day of each sample."""
    return [(s.id, s.point, s.collected) for s in reading.samples]


def test_a_symbol_with_its_valence_names_the_species() -> None:
    reading = read_csv(
        "solution,units,pH,Ca,S(6),N(5),N(-3)\n"
        "a1,ppm,7.1,41,17.5,0.9,0.2\n"
        "a2,ppm,7.4,52,19.5,<0.05,0.4\n"
        "a3,ppm,7.3,47,21.5,1.3,0.6\n"
    )
    told = {(r.label, r.analyte) for r in reading.results}
    assert {("S(6)", "sulfate"), ("N(5)", "nitrate"), ("N(-3)", "ammonia")} <= told
    assert "sulfur" not in {r.analyte for r in reading.results}


def test_a_column_of_nothing_but_limits_is_read_or_told() -> None:
    reading = read_csv(
        "well,pH,Ca (mg/L),Xq,N(5)\nA,7.1,41,<0.2,<0.05\nB,7.4,52,<0.2,<0.05\nC,7.3,47,<0.2,<0.05\n"
    )
    assert [r.text for r in reading.results if r.analyte == "nitrate"] == ["<0.05"] * 3
    assert any("Xq" in u.text for u in reading.unread)


def test_a_remark_in_french_says_which_number_is_a_limit() -> None:
    reading = read_csv(
        "code_station,date_prelevement,libelle_parametre,resultat,symbole_unite,mnemo_remarque\n"
        "55,14/03/2017,Atrazine,0.2,µg/L,Résultat > seuil de quantification et < au seuil"
        " de saturation ou Résultat = 0\n"
        "55,14/03/2017,Simazine,0.02,µg/L,Résultat < au seuil de quantification\n"
        "55,14/03/2017,Glyphosate,0.03,µg/L,Résultat < seuil de détection\n"
    )
    assert [b[:2] for b in briefs(reading)] == [
        ("atrazine", "0.2"),
        ("simazine", "<0.02"),
        ("glyphosate", "<0.03"),
    ]
    assert names(reading) == [(None, "55", "2017-03-14")]


def test_dutch_names_of_tests_and_heads_are_known() -> None:
    reading = read_csv(
        "parameter,analysedatum,analysemeetwaarde,eenheid meetwaarde,limietsymbool\n"
        "koper,2016-02-29,0.5,ug/l,<\nzuurstof,2016-02-29,0.4,mg/l,\nijzer,2016-02-29,180,ug/l,\n"
        "nitriet,2016-02-29,0.1,mg/l,<\n"
    )
    assert [b[:3] for b in briefs(reading)] == [
        ("copper", "<0.5", "ug/l"),
        ("dissolved_oxygen", "0.4", "mg/l"),
        ("iron", "180", "ug/l"),
        ("nitrite", "<0.1", "mg/l"),
    ]


def test_yes_and_no_about_a_standard_say_nothing_of_what_was_found() -> None:
    reading = read_csv(
        "waterpoint_name,date_sample_collected,lab_sample_no,iron_mg_l,iron_within_standards\n"
        "Lower borehole,2/13/2019,19-07,0.31,Yes\nHill spring,2/13/2019,NA,0.62,No\n"
        "School pump,2/13/2019,NA,0.11,Yes\nMill,2/14/2019,19-09,0.12,Yes\n"
        "Weir,2/14/2019,NA,0.2,NA\n"
    )
    assert [s.point for s in reading.samples] == [
        "Lower borehole",
        "Hill spring",
        "School pump",
        "Mill",
        "Weir",
    ]
    assert not [r.review for r in reading.results if r.review]


def test_ratios_of_isotopes_are_no_oxygen() -> None:
    reading = read_csv("well,Ca (mg/L),pH,dO,dD\nA,41,7.1,-17.1,-123\nB,52,7.3,-17.9,-125\n")
    assert {r.analyte for r in reading.results} == {"calcium", "ph"}
    assert [u.text.split(":")[0] for u in reading.unread] == ["dO", "dD"]


def test_the_day_of_the_year_beside_the_year_is_a_day() -> None:
    reading = read_csv(
        "Year,DayofYear,Station,pH,Chloride (mg/L)\n2023,60,Weir,7.1,31\n2024,60,Weir,7.2,32\n"
        "2024,366,Weir,7.3,33\n2024,61,Mill,7.4,34\n"
    )
    assert names(reading) == [
        (None, "Weir", "2023-03-01"),
        (None, "Weir", "2024-02-29"),
        (None, "Weir", "2024-12-31"),
        (None, "Mill", "2024-03-01"),
    ]


def test_year_month_and_day_in_three_columns_are_a_day() -> None:
    reading = read_csv(
        "station,year,month,day,pH,Chloride (mg/L)\nWeir,2023,2,28,7.1,31\nWeir,2023,11,3,7.2,32\n"
    )
    assert [s.collected for s in reading.samples] == ["2023-02-28", "2023-11-03"]


def test_numbers_that_make_no_day_are_none() -> None:
    reading = read_csv(
        "station,year,month,day,pH,Chloride (mg/L)\nWeir,2023,2,30,7.1,31\nMill,2023,11,3,7.2,32\n"
    )
    assert [s.collected for s in reading.samples] == [None, None]


def test_one_place_in_two_seasons_gives_two_samples() -> None:
    reading = read_csv(
        "river_basin,sampling_site,year,season,lead_ppb,pH,source_study\n"
        "East,Weir,2018,Wet,4.1,6.8,Alder 2018\nEast,Weir,2018,Dry,2.2,7.1,Alder 2018\n"
        "East,Mill,2021,Wet,5.3,5.9,Birch 2021\nEast,Mill,2021,Dry,3.4,6.2,Birch 2021\n"
    )
    assert [s.point for s in reading.samples] == [
        "Weir, Wet",
        "Weir, Dry",
        "Mill, Wet",
        "Mill, Dry",
    ]
    assert not [r.review for r in reading.results if r.review]


def test_streets_part_the_samples_of_one_part_of_a_town() -> None:
    reading = read_csv(
        "Stadt,Ortsteil,Straße,Zone,Natrium (mg/l),Chlorid (mg/l),Anmerkungen\n"
        'Ahausen,Kernstadt,alle anderen,Zone 1,"5,1",15,neu\n'
        'Ahausen,Kernstadt,Ahornweg,Zone 2,6,"7,8",neu\nAhausen,Hagen,,,"6,5","7,7",\n'
        'Bhausen,Hagen,,,"8,5","9,7",\n'
    )
    assert [s.point for s in reading.samples] == [
        "Ahausen, Kernstadt, alle anderen",
        "Ahausen, Kernstadt, Ahornweg",
        "Ahausen, Hagen",
        "Bhausen, Hagen",
    ]


def test_rows_that_no_column_tells_apart_stay_doubted() -> None:
    reading = read_csv(
        "sampling_site,crew,lead_ppb,pH,iron_ppb\nWeir,Alder,4.1,6.8,31\nWeir,Birch,2.2,7.1,32\n"
        "Weir,Alder,5.3,5.9,33\nMill,Birch,3.4,6.2,34\n"
    )
    assert all(r.review for r in reading.samples[0].results)


def test_a_column_of_units_before_its_results_is_theirs() -> None:
    reading = read_csv(
        "siteID,TP.units,TP.value,TN.units,TN.value,DOC.units,DOC.value\n"
        "A,ug/L,38,mg/L,0.82,,\nB,ug/L,60,mg/L,0.9,,\nC,,,,,mg/L,4.2\n"
    )
    assert [b[:3] for b in briefs(reading)] == [
        ("phosphorus", "38", "ug/L"),
        ("total_nitrogen", "0.82", "mg/L"),
        ("phosphorus", "60", "ug/L"),
        ("total_nitrogen", "0.9", "mg/L"),
        ("dissolved_organic_carbon", "4.2", "mg/L"),
    ]


def test_columns_headed_units_alone_stand_before_their_results_too() -> None:
    reading = read_csv(
        "site,units,Lead,units,Iron,units,Zinc\nA,ug/L,3,mg/L,0.82,ug/L,7\nB,ug/L,6,mg/L,0.9,,\n"
    )
    assert [b[:3] for b in briefs(reading)] == [
        ("lead", "3", "ug/L"),
        ("iron", "0.82", "mg/L"),
        ("zinc", "7", "ug/L"),
        ("lead", "6", "ug/L"),
        ("iron", "0.9", "mg/L"),
    ]


def test_a_note_behind_the_unit_of_a_head_hides_no_unit() -> None:
    reading = read_csv(
        "site,date,Tot N (mg/L (0<mdl)),Diss P (ug/L (0<mdl))\nA,1/31/2022,0.84,4.6\n"
        "B,1/31/2022,0.37,13.5\n"
    )
    assert [b[:3] for b in briefs(reading)][:2] == [
        ("total_nitrogen", "0.84", "mg/L"),
        ("phosphorus", "4.6", "ug/L"),
    ]
    assert {r.fraction for r in reading.results if r.analyte == "phosphorus"} == {"dissolved"}


def test_a_word_before_all_names_of_tests_hides_none_of_them() -> None:
    reading = read_csv(
        "name,gas,min_natrium,min_kalium,min_calcium,min_chlorid,gout_a\n"
        "Quelle Eins,true,18,5,500,29,3\nQuelle Zwei,false,7.7,NA,67.8,14.2,7\n"
    )
    assert [(r.label, r.analyte) for r in reading.samples[0].results][:4] == [
        ("min_natrium", "sodium"),
        ("min_kalium", "potassium"),
        ("min_calcium", "calcium"),
        ("min_chlorid", "chloride"),
    ]
    assert all("read.label_fuzzy" in {m.code for m in r.review} for r in reading.results)


def test_the_least_and_the_most_of_many_samples_are_no_results() -> None:
    reading = read_csv(
        "well,min_lead,min_iron,min_zinc,min_copper,max_lead,max_iron,max_zinc,max_copper,pH\n"
        "A,1,2,3,4,5,6,7,8,7.1\nB,1,2,3,4,5,6,7,8,7.2\n"
    )
    assert {r.analyte for r in reading.results} <= {"ph"}


def test_standards_blanks_and_second_measurements_are_no_samples() -> None:
    reading = read_csv(
        "SAMPLE ID.,Alkalinity (mg/L as CaCO3),pH\nRock 20.2 std.,138.6,7.4\n"
        "milli q blank,4.6,6.1\nSTD3,50,7.0\n14331 dup,525.2,8.5\n14331,522.4,8.5\n"
        "Woolshed,576.8,8.8\nStudio,300.1,8.1\n"
    )
    assert [s.id or s.point for s in reading.samples] == ["14331", "Woolshed", "Studio"]


def test_organic_carbon_of_filtered_water_is_the_dissolved() -> None:
    reading = read_csv(
        "Location,Characteristic Name,Result Sample Fraction Text,Result Value,Unit\n"
        "A,Organic carbon,Dissolved,2.7,mg/L\nA,Barium,Dissolved,39,ug/L\n"
        "B,Organic carbon,Total,3.1,mg/L\n"
    )
    assert [r.analyte for r in reading.results] == [
        "dissolved_organic_carbon",
        "barium",
        "total_organic_carbon",
    ]


def test_the_unit_of_a_row_is_not_that_of_its_temperature() -> None:
    reading = read_csv("solution,units,temp,pH,Ca,Mg\na1,ppm,12.5,7.1,41,7\na2,ppm,11.5,7.4,52,8\n")
    units = {(r.analyte, r.unit) for r in reading.results}
    assert {("calcium", "ppm"), ("magnesium", "ppm"), ("temperature", None)} <= units


def test_underscores_in_a_unit_and_joined_capitals_are_blanks() -> None:
    reading = read_csv(
        "SITIO,COLI_FEC_NMP/100_mL,PreferredPH,TotalNitrogen (mg/L)\nPozo A,<1.1,7.1,0.4\n"
        "Pozo B,4,7.3,0.5\n"
    )
    assert [b[:3] for b in briefs(reading)][:3] == [
        ("fecal_coliform", "<1.1", "NMP/100 mL"),
        ("ph", "7.1", None),
        ("total_nitrogen", "0.4", "mg/L"),
    ]


def test_the_place_of_a_sample_is_its_name_before_its_number() -> None:
    reading = read_csv(
        "site number,site location,date,Lead (ug/L),Iron (mg/L)\n"
        "UH In,Union Mill inlet,1/13/2022,3,2\n"
        "UH Out,Union Mill outlet,1/13/2022,4,3\n"
    )
    assert [s.point for s in reading.samples] == ["Union Mill inlet", "Union Mill outlet"]


def test_an_element_by_two_instruments_is_two_results_of_one_sample() -> None:
    reading = read_csv(
        ",,Ion Chromatography,,,ICP,,,,,,ICP-MS,,,,\n"
        ",,Cl-,Br-,SO4=,Ca,Mg,Na,Cd,Cr,Zn,Li,Y,Sc,Cd,Nd\n"
        "Lab. ID,Sample ID,mg/L,mg/L,mg/L,mg/L,mg/L,mg/L,mg/L,mg/L,mg/L,ug/L,ug/L,ug/L,ug/L,ug/L\n"
        "1,Bore A,968,4.2,240,94,97,586,<0.05,<0.05,<0.05,8.5,<0.05,2.2,0.31,<0.05\n"
        "2,Bore B,454,1.7,73,58,88,371,<0.05,<0.05,0.08,2.4,0.07,1.9,0.22,0.30\n"
    )
    first = {(r.analyte, r.text, r.unit, r.method) for r in reading.samples[0].results}
    assert {
        ("chloride", "968", "mg/L", "Ion Chromatography"),
        ("calcium", "94", "mg/L", "ICP"),
        ("cadmium", "<0.05", "mg/L", "ICP"),
        ("cadmium", "0.31", "ug/L", "ICP-MS"),
        ("lithium", "8.5", "ug/L", "ICP-MS"),
        ("yttrium", "<0.05", "ug/L", "ICP-MS"),
        ("scandium", "2.2", "ug/L", "ICP-MS"),
    } <= first
    assert [r.label for r in reading.results if r.review] == ["Nd", "Nd"]


def test_averages_and_limits_of_all_tests_are_no_family_of_results() -> None:
    for word in ("avg", "mdl", "pred", "n"):
        reading = read_csv(
            f"well,{word}_lead,{word}_iron,{word}_zinc,{word}_copper,pH\n"
            "A,1,2,3,4,7.1\nB,5,6,7,8,7.2\n"
        )
        assert {r.analyte for r in reading.results if not r.review} <= {"ph"}


def test_remarks_in_other_tongues_say_what_was_not_found() -> None:
    reading = read_csv(
        "Station,Paramètre,Résultat,Unité,Remarque\nP1,Plomb,2,µg/L,non détecté\n"
        "P1,Fer,120,µg/L,\nP1,Arsenic,0.5,µg/L,inférieur à la limite de quantification\n"
    )
    assert [b[:2] for b in briefs(reading)] == [
        ("lead", "<2"),
        ("iron", "120"),
        ("arsenic", "<0.5"),
    ]
    reading = read_csv(
        "Messstelle,Parameter,Wert,Einheit,Bemerkung\nB1,Blei,2,µg/l,nicht nachweisbar\n"
        "B1,Eisen,120,µg/l,Probe trüb\n"
    )
    assert [b[:2] for b in briefs(reading)] == [("lead", "<2"), ("iron", "120")]


def test_places_and_days_are_kept_where_all_numbers_have_decimal_commas() -> None:
    reading = read_csv(
        'Station,Datum,Parameter,Wert,Einheit\nA1,12.03.2020,Nitrat,"12,5",mg/l\n'
        'A1,12.03.2020,Blei,"0,5",ug/l\nA1,13.03.2020,Eisen,"0,3",mg/l\n'
    )
    assert [(s.point, s.collected, len(s.results)) for s in reading.samples] == [
        ("A1", "2020-03-12", 2),
        ("A1", "2020-03-13", 1),
    ]


def test_a_point_parts_thousands_where_commas_part_decimals() -> None:
    reading = read_csv(
        "Messstelle,Wassertemperatur (°C),Leitfähigkeit (µS/cm),Nitrat (mg/l),Ammonium (mg/l)\n"
        'B1,"11,2",650,"12,4","<0,05"\nB2,"10,9",1.240,< BG,n.n.\n'
    )
    told = [brief(r)[:2] for r in reading.samples[1].results]
    assert told == [
        ("temperature", "10.9"),
        ("specific_conductance", "1240"),
        ("nitrate", "<"),
        ("ammonia", "<"),
    ]


def test_a_day_with_dashes_tells_the_order_of_all_days() -> None:
    reading = read_csv(
        "Station,Date,Parameter,Result,Unit\nA1,12-03-2020,Nitrate,12.5,mg/l\n"
        "A1,13-03-2020,Iron,0.3,mg/l\n"
    )
    assert [s.collected for s in reading.samples] == ["2020-03-12", "2020-03-13"]


def test_french_codes_of_remarks_and_limits_are_understood() -> None:
    reading = read_csv(
        "code_site,nom_site,date_prelevement,parametre,valeur,unite,ld,lq,code_remarque\n"
        "6000,Puits Nord,14/03/2021,Nitrates,12.5,mg/L,0.1,0.5,1\n"
        "6000,Puits Nord,14/03/2021,Plomb,0.5,µg/L,0.1,0.5,10\n"
    )
    assert [b[:2] for b in briefs(reading)] == [("nitrate", "12.5"), ("lead", "<0.5")]
    assert [str(r.reporting_limit) for r in reading.results] == ["0.5", "0.5"]


def test_a_test_in_the_field_and_in_the_lab_are_both_read() -> None:
    reading = read_csv(
        "well,pH_field,EC_field_uS_cm,EC_lab_uS_cm,STD (mg/l)\n"
        "A,7.1,650,661,401\nB,7.2,640,651,405\n"
    )
    texts = [r.text for r in reading.samples[0].results if r.analyte == "specific_conductance"]
    assert texts == ["650", "661"]
    assert any("STD" in u.text for u in reading.unread)


def test_columns_of_other_years_are_told_where_they_are_not_read() -> None:
    reading = read_csv(
        "Station,Parameter,2019,2020,2021\nW1,Nitrate (mg/L),1.2,1.3,1.5\nW1,Lead (ug/L),<1,2,<1\n"
    )
    read = {
        (where.cell or "")[:1] for r in reading.results for where in r.where if where.of == "value"
    }
    told = {u.text[:4] for u in reading.unread}
    years = {"C": "2019", "D": "2020", "E": "2021"}
    assert {years[column] for column in read} | told >= {"2019", "2020", "2021"}
    assert not {years[column] for column in read} & told
