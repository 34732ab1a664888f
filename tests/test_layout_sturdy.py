"""Whatever a file holds, the engine returns a reading and invents nothing."""

from __future__ import annotations

from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from layout_sheets import from_csv, page, pdf

from welltold_parsers.geometry import Page, Word
from welltold_parsers.layout import read_document

WORDS = (
    "Analyte|Result|Units|RL|MCL|Sample ID:|Collected:|Lead|Iron, Total|pH|Nitrate as N|mg/L|ug/L"
    "|Total Coliform|0.31|<1|ND|Absent|4.2 mg/L|EPA 200.8|03/08/2026|A-17|U|J|6.5-8.5|-|*|10^3|:"
    "|Quality Control|Method Blank|[X] Absent|Page 1 of 2|7439-92-1|Results in mg/L|1,250|Recovery"
    "|Kitchen|(hexavalent)|µg/L"
)
PIECES = st.sampled_from(WORDS.split("|"))
ANY = st.one_of(PIECES, st.text(max_size=12))
FEW = settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow])


@FEW
@given(st.lists(st.lists(ANY, max_size=6), max_size=12))
@example([["10^3", "Units", "Total Coliform", "Sample ID:"]])
def test_any_table_file_gives_a_reading(rows: list[list[str]]) -> None:
    plain = [
        [c.replace('"', "").replace("\n", " ").replace("\r", " ").replace(",", ";") for c in row]
        for row in rows
    ]
    reading = read_document(from_csv("\n".join(",".join(row) for row in plain)))
    texts = {c.strip() for row in plain for c in row}
    texts |= {" ".join(c.strip() for c in row) for row in plain}  # "0.31 | µg/L" without a name
    for result in reading.results:
        assert any(result.text in t for t in texts)
        assert (result.use == "look") == bool(result.review)
        assert 0 < result.confidence <= 1
        assert any(w.of == "value" for w in result.where)


@FEW
@given(
    st.lists(
        st.tuples(st.integers(0, 40), st.dictionaries(st.integers(0, 9), PIECES, max_size=5)),
        max_size=14,
    )
)
def test_any_page_gives_a_reading(lines: list[tuple[int, dict[int, str]]]) -> None:
    made = [
        (18.0 * top, {60.0 * left: text for left, text in cells.items()}) for top, cells in lines
    ]
    reading = read_document(pdf(page(*made)))
    for result in reading.results:
        assert result.where
        assert result.state != "unreadable"


@FEW
@given(
    st.lists(
        st.tuples(
            PIECES, st.floats(0, 600), st.floats(0, 780), st.floats(0.5, 90), st.floats(0.5, 40)
        ),
        max_size=40,
    )
)
def test_words_anywhere_even_one_upon_the_other_give_a_reading(
    words: list[tuple[str, float, float, float, float]],
) -> None:
    every = tuple(Word(t, x, y, x + w, y + h) for t, x, y, w, h in words)
    read_document(pdf(Page(1, 612, 792, every)))


def test_an_empty_document_gives_an_empty_reading() -> None:
    assert read_document(pdf(page())).results == ()
    assert read_document(from_csv("")).results == ()
