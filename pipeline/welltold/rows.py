"""A reading as flat rows, one a result: for a spreadsheet, a data frame, a batch table."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from .messages import say
from .reading import Reading, Result, Sample, Source, Where

COLUMNS = (
    "file",
    "sample_id",
    "point",
    "collected",
    "taken",
    "analyte",
    "label",
    "text",
    "state",
    "operator",
    "value",
    "present",
    "unit",
    "basis",
    "fraction",
    "qualifiers",
    "reporting_limit",
    "detection_limit",
    "printed_limit",
    "method",
    "analyzed",
    "cas",
    "normalized_value",
    "normalized_unit",
    "normalized_basis",
    "confidence",
    "use",
    "review",
    "place",
    "corrected_text",
    "corrected_by",
    "corrected_at",
)


def rows(reading: Reading) -> Iterator[dict[str, Any]]:
    """Yield one row a result, with the keys of `COLUMNS`; None where the sheet says nothing."""
    for sample in reading.samples:
        for result in sample.results:
            yield row(reading.source, sample, result)


def row(source: Source, sample: Sample, result: Result) -> dict[str, Any]:
    """Return the row of one result."""
    return {"file": source.file, **_sample(sample), **_result(result)}


def _sample(sample: Sample) -> dict[str, Any]:
    return {
        "sample_id": sample.id,
        "point": sample.point,
        "collected": sample.collected,
        "taken": sample.taken,
    }


def _result(result: Result) -> dict[str, Any]:
    norm, corrected = result.normalized, result.correction
    plain = (
        "analyte label text state operator value present unit basis fraction reporting_limit "
        "detection_limit printed_limit method analyzed cas confidence use"
    )
    return {
        **{name: getattr(result, name) for name in plain.split()},
        "qualifiers": " ".join(result.qualifiers) or None,
        "normalized_value": norm.value if norm else None,
        "normalized_unit": norm.unit if norm else None,
        "normalized_basis": norm.basis if norm else None,
        "review": " ".join(message.text for message in result.review) or None,
        "place": place_in_words(result.where),
        "corrected_text": corrected.text if corrected else None,
        "corrected_by": corrected.by if corrected else None,
        "corrected_at": corrected.at if corrected else None,
    }


def place_in_words(where: tuple[Where, ...]) -> str | None:
    """Return where the value stands, as a person would point to it; None when not known."""
    of_value = [place for place in where if place.of == "value"] or list(where)
    return "; ".join(filter(None, map(_one_place, of_value))) or None


def _one_place(place: Where) -> str:
    if place.cell:
        return f"{place.sheet}!{place.cell}" if place.sheet else place.cell
    if place.page and place.box:
        left, top = place.box[:2]
        across, down = f"{left / 72:.1f}", f"{top / 72:.1f}"
        return say("speech.place_page_at", page=place.page, left=across, top=down).text
    return say("speech.place_page", page=place.page).text if place.page else ""
