"""What paper shows: the printed page of the HTML report keeps its headings."""

from __future__ import annotations

import re

import pytest

from welltold_reports.html import TEMPLATES

HIDES = re.compile(
    r"clip-path|clip\s*:|display\s*:\s*none|visibility\s*:\s*hidden|overflow\s*:\s*hidden|opacity\s*:\s*0"
    r"|font-size\s*:\s*0|(?<![-\w])(?:width|height)\s*:\s*[01](?:px)?\s*(?:;|$)"
)


def blocks(css: str) -> list[tuple[str, str]]:
    """Every "selector { declarations }" with its selector, inside rules for media too."""
    rules: list[tuple[str, str]] = []
    at = 0
    while (opens := css.find("{", at)) >= 0:
        depth, end = 1, opens + 1
        while depth:
            depth += {"{": 1, "}": -1}.get(css[end], 0)
            end += 1
        head, body = css[at:opens].strip(), css[opens + 1 : end - 1]
        rules += blocks(body) if head.startswith("@media") else [(head, body)]
        if head.startswith("@media"):
            rules.append((head, body))
        at = end
    return rules


def hidden(css: str) -> set[str]:
    """The selectors, one by one, that some rule hides."""
    return {
        one.strip()
        for head, body in blocks(css)
        if not head.startswith("@")
        for one in head.split(",")
        if HIDES.search(body)
    }


@pytest.mark.parametrize("name", ["homeowner.css", "worksheet.css"])
def test_no_rule_hides_a_heading_or_a_text(name: str) -> None:
    css = (TEMPLATES / name).read_text("utf-8")
    told_elsewhere = {"caption.vh", ".appendix thead", ".wide thead"}
    assert hidden(css) <= told_elsewhere


def test_a_rule_that_hides_is_seen() -> None:
    css = "h1 { margin: 0 } @media print { h2, h3 { clip-path: inset(50%); } }"
    assert hidden(css) == {"h2", "h3"}


def test_on_paper_no_heading_is_left_alone_at_the_foot_of_a_page() -> None:
    css = (TEMPLATES / "homeowner.css").read_text("utf-8")
    printed = dict(blocks(css))["@media print"]
    kept = {
        one.strip()
        for head, body in blocks(printed)
        if "break-after: avoid" in body
        for one in head.split(",")
    }
    assert {"h2", "h3", "h4"} <= kept
