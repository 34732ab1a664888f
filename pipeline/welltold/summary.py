"""The batch summary: one row a sample, the gravest first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from . import __version__
from .boil import GERMS, NITROGEN
from .interpretation import Finding, Interpretation, SampleView, Verdict
from .messages import say, speaking
from .reading import Sample

COLUMNS = (
    "file",
    "sample_id",
    "client_ref",
    "collected",
    "received",
    "sampling_point",
    "language",
    "results_read",
    "results_unread",
    "results_to_review",
    "gravest_verdict",
    "urgency",
    "act_now",
    "persons",
    "health_concerns",
    "watch",
    "nuisances",
    "cant_tell",
    "core_not_tested",
    "bacteria_and_nitrate",
    "phone_first",
    "report_file",
    "outcome",
    "reason",
    "levels_date",
    "version",
    "sha256",
)
NONE = "none"
CORE = ("total_coliform", "nitrate", "arsenic", "lead")
GRAVEST_FIRST: tuple[Verdict, ...] = (
    "health_concern",
    "cant_tell",
    "watch",
    "nuisance_only",
    "no_concern_found",
    "not_tested",
)
"""What nobody can tell may be grave, so it stands before what is known to be less."""
RANK: dict[str, int] = {verdict: rank for rank, verdict in enumerate(GRAVEST_FIRST)}

Row = dict[str, str]


def sample_rows(view: Interpretation, file: str, report_files: Sequence[str]) -> list[Row]:
    """Return one row a sample of the sheet ``file``; ``report_files`` has the report of each."""
    triples = zip(view.samples, view.reading.samples, report_files, strict=True)
    with speaking(view.language):
        return [
            {"file": file, **_row(view, found, sample, report)} for found, sample, report in triples
        ]


def in_order(rows: Iterable[Row]) -> list[Row]:
    """Return the rows with those first that somebody must be called about today."""
    return sorted(rows, key=lambda row: (row["phone_first"] != "yes", _rank(row), row["file"]))


def _rank(row: Row) -> int:
    return RANK.get(row["gravest_verdict"], len(RANK))


def _row(view: Interpretation, found: SampleView, sample: Sample, report_file: str) -> Row:
    reading = view.reading
    urgent = [finding for finding in found.findings if finding.for_today]
    to_review = sum(result.use == "look" for result in sample.results)
    doubtful = bool(to_review or reading.unread)
    return {
        "sample_id": sample.id or NONE,
        "client_ref": reading.lab.report_id or NONE,
        "collected": sample.collected or NONE,
        "received": sample.received or NONE,
        "sampling_point": sample.point or NONE,
        "language": view.language,
        "results_read": str(len(sample.results)),
        "results_unread": str(len(reading.unread)),
        "results_to_review": str(to_review),
        "gravest_verdict": _gravest(found.findings),
        "urgency": "now" if urgent else _first(f.urgency for f in found.findings),
        "act_now": _slugs(urgent),
        "persons": " ".join(dict.fromkeys(p for f in urgent for p in f.persons)) or NONE,
        "health_concerns": _with(found, "health_concern"),
        "watch": _with(found, "watch"),
        "nuisances": _with(found, "nuisance_only"),
        "cant_tell": _with(found, "cant_tell"),
        "core_not_tested": _core_not_tested(found),
        "bacteria_and_nitrate": _bacteria_and_nitrate(found),
        "phone_first": "yes" if urgent else "no",
        "report_file": report_file,
        "outcome": "held for review" if doubtful else "made",
        "reason": say("batch.held_why").text if doubtful else NONE,
        "levels_date": view.as_of,
        "version": __version__,
        "sha256": reading.source.sha256,
    }


def _first(values: Iterable[str | None]) -> str:
    return next((value for value in values if value), NONE)


def _gravest(findings: Sequence[Finding]) -> str:
    """Return the verdict that weighs most; one that asks for action today outranks the others."""
    gravest = min(findings, key=lambda f: (not f.for_today, RANK[f.verdict]), default=None)
    return gravest.verdict if gravest else NONE


def _slugs(findings: Iterable[Finding]) -> str:
    return " ".join(dict.fromkeys(f.analyte or f.label for f in findings)) or NONE


def _with(found: SampleView, verdict: Verdict) -> str:
    return _slugs(f for f in found.findings if f.verdict == verdict)


def _core_not_tested(found: SampleView) -> str:
    tested = {f.analyte for f in found.findings if f.verdict != "not_tested"}
    return " ".join(slug for slug in CORE if slug not in tested) or NONE


def _bacteria_and_nitrate(found: SampleView) -> str:
    """Say whether bacteria and nitrate are both a concern: then nobody may be told to boil."""
    verdicts = {
        group: {f.verdict for f in found.findings if f.analyte in members}
        for group, members in (("bacteria", GERMS), ("nitrogen", NITROGEN))
    }
    if any(not seen - {"not_tested", "cant_tell"} for seen in verdicts.values()):
        return "unknown"
    return "yes" if all("health_concern" in seen for seen in verdicts.values()) else "no"
