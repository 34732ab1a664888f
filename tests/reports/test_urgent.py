"""The page of a batch for the person at the telephone, and the summary beside it."""

from __future__ import annotations

import csv
import io
from pathlib import Path
from urllib.parse import unquote

import pytest
from hypothesis import given
from hypothesis import strategies as st
from lxml import html as lxml_html
from openpyxl import load_workbook
from typer.testing import CliRunner

from welltold.command.app import app
from welltold.errors import ExitCode
from welltold.messages import LANGUAGES, Language
from welltold.summary import COLUMNS, Row
from welltold_reports.html import urgent_html
from welltold_reports.urgent import build_urgent

SHEETS = Path(__file__).parents[2] / "samples" / "sheets"
GIVEN = ("clean-well.pdf", "nitrate-bacteria.pdf", "truncated.pdf", "county-survey.xlsx")
COUNTS = {"files": 3, "reported": 2, "set_aside": 1, "left": 0, "samples": 2, "urgent": 1}
ASKED_FOR = (
    "file sample_id client_ref collected received sampling_point language results_read "
    "results_unread results_to_review gravest_verdict urgency act_now persons health_concerns "
    "watch nuisances cant_tell core_not_tested bacteria_and_nitrate phone_first report_file "
    "outcome reason levels_date version sha256"
)


def row(**more: str) -> Row:
    made = dict.fromkeys(COLUMNS, "none")
    made |= {"sample_id": "A-1", "outcome": "made", "phone_first": "no", "collected": "2026-05-11"}
    return made | {"levels_date": "2026-11-25", "version": "0.1.0"} | more


URGENT = row(
    phone_first="yes", urgency="now", act_now="nitrate", persons="infant pregnant",
    health_concerns="nitrate", report_file="reports/a b.pdf/a b.homeowner.pdf",
)  # fmt: skip


def text_of(*rows: Row, language: Language = "en") -> str:
    page = urgent_html(build_urgent(rows, COUNTS, language))
    return " ".join(lxml_html.document_fromstring(page).body.text_content().split())


def test_the_summary_has_the_columns_that_a_lab_was_promised() -> None:
    assert " ".join(COLUMNS) == ASKED_FOR


def test_who_is_to_be_called_stands_first_with_persons_and_report() -> None:
    text = text_of(row(sample_id="B-2", urgency="soon", health_concerns="arsenic"), URGENT)
    assert text.index("Call today") < text.index("A-1, taken May 11, 2026")
    assert text.index("A-1") < text.index("Act in the next few weeks") < text.index("B-2")
    assert "babies under 12 months and pregnant people" in text
    assert "Nitrate: nobody may be told to boil." in text
    assert "1 of 2 samples asks for a call today." in text


def test_germs_with_an_unknown_nitrate_are_read_up_before_boiling_is_spoken_of() -> None:
    germs = row(phone_first="yes", act_now="e_coli", bacteria_and_nitrate="unknown")
    assert "Read the report before you speak of boiling." in text_of(germs)


def test_an_urgent_sample_in_doubt_is_called_and_looked_at_the_same_day() -> None:
    text = text_of(URGENT | {"outcome": "held for review"})
    assert "Call today" in text
    assert "check the sheet first, the same day" in text


def test_nothing_urgent_says_so() -> None:
    assert "No sample asks for a call today." in text_of(row())
    assert "Call today" not in text_of()


@pytest.mark.parametrize(("language", "head"), [("en", "File"), ("es", "Archivo")])
def test_the_sampling_point_and_the_sheet_stand_beside_the_sample(
    language: Language, head: str
) -> None:
    told = URGENT | {"sampling_point": "Kitchen tap", "file": "spring/a b.pdf"}
    text = text_of(told, language=language)
    assert "Kitchen tap" in text
    page = lxml_html.document_fromstring(urgent_html(build_urgent([told], COUNTS, language)))
    assert [one.text_content() for one in page.findall(".//thead//th")][1] == head
    assert "spring/a b.pdf" in text
    assert text_of(told | {"sample_id": "none"}).count("Kitchen tap") == 1


def test_the_ending_of_a_file_is_never_broken() -> None:
    page = urgent_html(build_urgent([URGENT], COUNTS, "en"))
    assert "a b<wbr>.homeowner<wbr>.pdf</a>" in page
    assert "td.file { overflow-wrap: break-word; }" in page


def test_links_lead_to_the_reports_and_are_named() -> None:
    page = lxml_html.document_fromstring(urgent_html(build_urgent([URGENT], COUNTS, "en")))
    (link,) = page.findall(".//a")
    assert unquote(link.get("href")) == URGENT["report_file"]
    assert " " not in link.get("href")
    assert "A-1" in link.get("aria-label")
    assert link.text_content() in link.get("aria-label")


@given(st.text(), st.text())
def test_whatever_a_lab_prints_is_text_on_the_page(name: str, report: str) -> None:
    made = build_urgent([URGENT | {"sample_id": name, "report_file": report}], COUNTS, "en")
    page = urgent_html(made)
    assert "<script" not in page.lower()
    assert page.count("<a ") <= 1


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_language_fills_the_page(language: Language) -> None:
    text = text_of(URGENT, row(outcome="held for review"), language=language)
    assert "{" not in text
    if language == "es":
        assert "Llame hoy" in text
        assert "Call today" not in text


@pytest.fixture(scope="module")
def batch(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("batch")
    (folder / "inbox" / "spring & co").mkdir(parents=True)
    for at, name in enumerate(GIVEN):
        (folder / "inbox" / ("spring & co" if at % 2 else "") / name).write_bytes(
            (SHEETS / name).read_bytes()
        )
    words = ["batch", str(folder / "inbox"), "--out", str(folder / "out"), "--format", "html"]
    done = CliRunner().invoke(app, [*words, "--as-of", "2026-11-25", "--jobs", "1"])
    assert done.exit_code == ExitCode.set_aside
    return folder / "out"


def test_a_mail_merge_finds_every_report_by_its_row(batch: Path) -> None:
    """One line a sample, no cell empty, each report a file of its own below the summary."""
    rows = list(csv.DictReader(io.StringIO((batch / "summary.csv").read_text("utf-8"))))
    assert len(rows) == 6
    assert all(all(one.values()) for one in rows)
    reports = [one["report_file"] for one in rows]
    assert len(set(reports)) == len(reports)
    for name in reports:
        assert not name.startswith("/")
        assert "\\" not in name
        assert (batch / name).is_file()
    assert [one["phone_first"] for one in rows] == sorted(
        (one["phone_first"] for one in rows), reverse=True
    )


def test_the_workbook_says_the_same_and_its_totals_add_up(batch: Path) -> None:
    book = load_workbook(batch / "summary.xlsx")
    rows = list(book["Samples"].iter_rows(values_only=True))
    assert rows[0] == COLUMNS
    plain = list(csv.reader(io.StringIO((batch / "summary.csv").read_text("utf-8"))))
    assert [list(one) for one in rows[1:]] == plain[1:]
    totals = dict(book["Totals"].iter_rows(values_only=True))
    parts = ("Files reported", "Files set aside", "Files left for the next run")
    assert totals["Files given"] == len(GIVEN) == sum(totals[name] for name in parts)
    assert totals["Samples"] == len(rows) - 1


def test_the_reason_names_a_file_below_the_folder_of_the_batch(batch: Path) -> None:
    (row,) = csv.DictReader(io.StringIO((batch / "set-aside.csv").read_text("utf-8")))
    assert row["file"] == "truncated.pdf"
    assert row["reason"].startswith("truncated.pdf: ")
    assert str(batch.parent) not in row["reason"]


def test_the_page_of_a_batch_leads_to_its_reports(batch: Path) -> None:
    root = lxml_html.document_fromstring((batch / "urgent.html").read_bytes())
    links = [one.get("href") for one in root.findall(".//a")]
    assert links
    assert all((batch / unquote(link)).is_file() for link in links)
    assert "Files set aside (set-aside.csv says why): 1" in root.text_content()
