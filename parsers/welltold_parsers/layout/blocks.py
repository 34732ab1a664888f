"""The head of a sample's block: its name and number before the day of collection, without a key.

"MW-2 Kitchen (24K0377-01) Water   Sampled: 11/05/24 07:45", "WRA-660   Well A   Collected 3/14/23"
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from .sample_kinds import control_kind
from .tokens import analyte_in
from .words import head_of, heading_region

_CONTINUED = re.compile(r"(?i)[\s(\[-]*\b(?:continued|cont(?:'d|d)?)\b\.?[)\]]*")
_BRACKETED = re.compile(r"^(.*?)[\s,]*[(\[]\s*((?=\S*\d)[\w/.-]+)\s*[)\]](.*)$")
_NUMBER = re.compile(
    r"(?=\S*\d\S*\d)[A-Z]{0,6}[-/#]?\d[\w/.-]{2,18}|[A-Z]{2,6}\d?-\d{2,6}(?:-\d+)?"
)
_MATRIX = re.compile(
    r"(?i)\b(?:drinking|ground|potable|surface|well|tap|raw)?[ -]?(?:ground)?water$"
    r"|\b(?:aqueous|liquid|DW|GW)$"
)
_OWNER = re.compile(
    r"(?i)\b(?:lab(?:orator(?:y|ies))?s?|inc|llc|ltd|analytical|testing|services?|department|university|report"
    r"|county of|division|page|project|client|order)\b"
)
_PERSON = re.compile(
    r"(?:(?:Mr|Mrs|Ms|Dr)s?\.? )?(?:(?:[A-Z]\.[ -]?)+(?:(?:&|and) (?:[A-Z]\.[ -]?)+)?)"
    r"[A-Z][\w'’-]+(?:,? (?:Jr|Sr|II|III)\.?)?"
)
"""A person's initials and name: "L. Petrosyan", "R. & M. Hollowell"."""
_CONTROL = re.compile(
    r"^(?:MB|MBLK|LCSD?|LFB|LRB|CCV|ICV)[\s-]+\d[\d-]{4,}|\d\s+(?:MSD?|DUP?|LCSD?|MB|BLK)$"
)
"""A laboratory's own number with the short name of a control before or behind it."""
_NUMBERED = re.compile(r"^(.*\S)\s+((?=[\w-]*\d{4})[A-Z]{0,4}\d[A-Z\d]{3,}-\d{1,3}[A-Z]?)$")
"""A name and, behind it, the laboratory's number with the sample's own after a hyphen."""
_MATRIX_BEHIND = re.compile(r"^(.*\S)\s*[(\[]([^()\[\]\d]+)[)\]]$")
_DUPLICATE = re.compile(r"(?i)[\s-]\(?(?:DUP|FD|duplicate)\)?$")
_LONGEST = 9


def names_in(texts: Sequence[str]) -> Iterator[tuple[str, str]]:
    """Yield (role, text) for the names in the texts before the day of collection."""
    whole = without_continued(" ".join(texts)).strip(" -–—:|,;")
    numbered = _numbered(whole)
    if numbered:
        yield from numbered
        return
    bracket = _BRACKETED.match(whole)
    bare = bracket[1].strip() if bracket else whole
    if not bare or len(whole.split()) > _LONGEST or _no_name(bare):
        return
    if bracket:
        yield "client_id", bracket[1].strip(" -–—:|,")
        yield "lab_id", bracket[2]
        matrix = _MATRIX.search(bracket[3].strip(" ,;"))
        if matrix:
            yield "matrix", matrix[0].strip()
        return
    first, *rest = whole.split()
    if _NUMBER.fullmatch(first):
        yield "sample_id", first
        place = " ".join(rest).strip(" -–—:|,()")
        if place:
            yield "point", place
    elif not _OWNER.search(whole) and not _PERSON.fullmatch(whole):
        yield "client_id", whole


def _numbered(whole: str) -> tuple[tuple[str, str], ...]:
    """Return the names in "12 Mill Ave - 1st L 2408417-01 (Drinking Water)"."""
    behind = _MATRIX_BEHIND.match(whole)
    if behind and not _MATRIX.search(behind[2].strip()):
        return ()
    found = _NUMBERED.match(behind[1] if behind else whole)
    if not found or len(found[1].split()) > _LONGEST or _no_name(found[1]):
        return ()
    names = (("client_id", found[1].strip(" -–—:|,")), ("lab_id", found[2]))
    return (*names, ("matrix", behind[2].strip())) if behind else names


def without_continued(text: str) -> str:
    """Return a heading without "(continued)"."""
    return _CONTINUED.sub("", text).strip()


def _no_name(text: str) -> bool:
    head = head_of(text)
    return (
        (head is not None and head.score >= 0.98)
        or (heading_region(text) is not None and control_kind(text) is None)
        or analyte_in(text) is not None
        or not any(c.isalpha() for c in text)
    )


def block_kind(name: str) -> str | None:
    """Return "qc_sample" or "blank_sample" for a block whose name says it is no client's."""
    kind = control_kind(name)
    if kind is not None:
        return kind
    control = _CONTROL.search(name)
    return "qc_sample" if control else None


def second_bottle(facts: Mapping[str, str]) -> bool:
    """Whether a "duplicate" is a bottle of its own, with a plain number and an hour.

    A duplicate that the laboratory made itself has its own mark in its number, or no hour.
    """
    number, name = facts.get("lab_id"), facts.get("client_id") or facts.get("sample_id")
    if number is None or name is None or not _DUPLICATE.search(name):
        return False
    return block_kind(number) is None and number not in name and "collected" in facts
