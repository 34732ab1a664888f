"""Which samples are no client's water: controls, blanks, duplicates, by code or by name."""

from __future__ import annotations

import re
from collections.abc import Container, Mapping
from functools import lru_cache

from .words import head_key, region_of

_NAMED = ("sample_id", "client_id", "point", "lab_id")
_FIELD_DUPLICATES = frozenset(
    {"fd", "fdup", "field dup", "field duplicate", "fr", "field replicate"}
)


@lru_cache(maxsize=1024)
def code_kind(code: str) -> str | None:
    """Return "qc_sample" or "blank_sample" for the code in a column of sample types."""
    whole = region_of(code, "code")
    if whole:
        return whole
    words = head_key(code).split()
    for size in range(len(words) - 1, 1, -1):
        for start in range(len(words) - size + 1):
            found = region_of(" ".join(words[start : start + size]), "code")
            if found:
                return found
    return None


_CONTROL_CODE = re.compile(
    r"(?i)[-_](?:BLK|BS|BSD|MS|MSD|DUP|LCS|LCSD|LCSDUP|CCV|CCB|ICV|ICB|MB|MBLK|PS|SRM|CRM)\d{0,3}$"
)
_BLANK_ASIDE = re.compile(r"(?i)\(((?:[a-z]+ ){0,2}blank)\)$")
"""What a sample is, in brackets behind its name: "Station 12 (field blank)"."""


_BLANK = frozenset({"blank", "blanks", "blanco"})
_SHORT = frozenset({"blk", "blks", "bk"})
_REAGENT = re.compile(r"(?:^|[^A-Za-z])FRB(?:[^A-Za-z]|$)")
"""A field reagent blank, as samplers of PFAS write it in capitals: "FRB-1", "Well 3 FRB"."""
_NOT_CLIENTS = re.compile(
    r"(?i)\b(?:blanks?|blk|blanco|rinsate|spiked?|control sample|(?:reagent|de-?ioni[sz]ed|DI"
    r"|laboratory) water)\b"
)
_STANDARD = re.compile(r"(?i)(?:^|[\s_-])stds?\.?\s?\d{0,3}$")
"""A standard among the samples: "STD3", "Rock 20.2 std."."""
_AGAIN = re.compile(r"(?i)^(?P<name>.*\S)[\s_-]+dup(?:l|licate)?\.?\s?\d?$")


def is_field_duplicate(code: str | None) -> bool:
    """Whether a code of a sample-type column marks a second sample taken at the same place."""
    return code is not None and head_key(code) in _FIELD_DUPLICATES


@lru_cache(maxsize=4096)
def control_kind(name: str) -> str | None:
    """Return "qc_sample" or "blank_sample" for a sample whose name says it is no client's water."""
    if _CONTROL_CODE.search(name) or _STANDARD.search(name):
        return "qc_sample"
    if _REAGENT.search(name):
        return "blank_sample"
    if (aside := _BLANK_ASIDE.search(name)) is not None:
        return region_of(head_key(aside[1]), "name")
    key = head_key(name)
    bare = re.sub(r"(?:\s+(?:no\s+)?\w*\d\w*)+$", "", key)
    whole = region_of(key, "name") or (region_of(bare, "name") if bare else None)
    return whole or _blank_within(key)


def kind_by_key(role: str, text: str) -> str | None:
    """Return the kind of a sample by what a key of its head says: "Sample type: Field Blank"."""
    if role not in {"sample_type", "matrix"}:
        return None
    code = code_kind(text) if role == "sample_type" else None
    if _NOT_CLIENTS.search(text) is None:
        return code if code == "blank_sample" else None
    return control_kind(text) or code or "blank_sample"


def _blank_within(key: str) -> str | None:
    """Return what a name says that holds the words of a blank: "Field blank (PFAS)"."""
    words = ["blank" if word in _SHORT else word for word in key.split()]
    if not _BLANK.intersection(words):
        return None
    runs = (
        " ".join(words[at : at + size]) for size in (3, 2) for at in range(len(words) - size + 1)
    )
    return next((kind for run in runs if (kind := region_of(run, "name")) is not None), None)


def measured_again(name: str, others: Container[str]) -> bool:
    """Whether a name is that of another sample with "dup" behind it: it was measured twice."""
    found = _AGAIN.match(name)
    return found is not None and found["name"] in others


def kind_of_names(names: Mapping[str, str], report: str | None) -> str | None:
    """Return the kind of a sample by its numbers and its place; None for a client's.

    A number that begins with that of the report is the report's own: "MB-8080-1" of "MB-8080".
    """
    told = (names[role] for role in _NAMED if role in names)
    kinds = (None if report and name.startswith(report) else control_kind(name) for name in told)
    return next((kind for kind in kinds if kind), None)
