"""What the style sheets within a page hide: ".template { display: none }"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from lxml import etree

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_CONDITIONAL = re.compile(r"@[^{};]*(?:;|\{(?:[^{}]*\{[^{}]*\})*[^{}]*\})")
"""Rules for print or for narrow screens say nothing of the page as it is seen."""
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_HIDES = re.compile(r"(?:display\s*:\s*none|visibility\s*:\s*hidden)", re.IGNORECASE)
_SHOWS = re.compile(r"(?:display\s*:|visibility\s*:\s*visible)", re.IGNORECASE)
_PLAIN = re.compile(r"[a-z0-9]*([.#])([\w-]+)", re.IGNORECASE)
_NAMES = re.compile(r"[.#][\w-]+")
_TRACKS = re.compile(r"grid-template-columns\s*:\s*([^;}]+)", re.IGNORECASE)
_REPEAT = re.compile(r"repeat\(\s*(\d+)\s*,([^()]*(?:\([^()]*\))?[^()]*)\)")
_TRACK = re.compile(r"[\w.%-]+(?:\([^()]*\))?")


def mark_hidden(root: etree._Element) -> None:
    """Give the attribute ``hidden`` to every element that a style sheet of the page hides.

    Only plain selectors count, of one class or one identity; and none that another rule shows
    again, as the sheets behind tabs are.
    """
    hidden = _hidden(_styles(root))
    if not hidden:
        return
    for element in root.iter(etree.Element):
        names = {f".{name}" for name in element.get("class", "").split()}
        names.add(f"#{element.get('id', '')}")
        if names & hidden:
            element.set("hidden", "")


def columns_of(root: etree._Element) -> Iterator[tuple[etree._Element, int]]:
    """Give each element that a style sets as a grid, and how many columns the grid has."""
    grids: dict[str, int] = {}
    for selectors, body in _RULE.findall(_styles(root)):
        tracks = _TRACKS.search(body)
        for selector in selectors.split(",") if tracks else ():
            plain = _PLAIN.fullmatch(selector.strip())
            if tracks and plain:
                grids[plain[1] + plain[2]] = _columns(tracks[1])
    for element in list(root.iter(etree.Element)):
        own = _TRACKS.search(element.get("style", ""))
        names = [f".{name}" for name in element.get("class", "").split()]
        told = [grids[n] for n in (*names, f"#{element.get('id', '')}") if n in grids]
        if own or told:
            yield element, _columns(own[1]) if own else told[0]


def _columns(tracks: str) -> int:
    """Return how many columns a list of tracks makes: "2fr repeat(3, 1fr)" makes four."""
    spelled = _REPEAT.sub(lambda m: f" {m[2]} " * int(m[1][:2]), tracks)
    return len(_TRACK.findall(spelled))


def _styles(root: etree._Element) -> str:
    """Return the rules of a page's own style sheets that hold wherever it is shown."""
    styles = "\n".join(element.text or "" for element in root.iter("style"))
    return _CONDITIONAL.sub("", _COMMENT.sub("", styles))


def _hidden(styles: str) -> set[str]:
    """Return the classes and identities, with their mark, that rules hide and none shows."""
    hidden: set[str] = set()
    shown: set[str] = set()
    for selectors, body in _RULE.findall(styles):
        if _HIDES.search(body):
            for selector in selectors.split(","):
                plain = _PLAIN.fullmatch(selector.strip())
                if plain:
                    hidden.add(plain[1] + plain[2])
        elif _SHOWS.search(body):
            shown.update(_NAMES.findall(selectors))
    return hidden - shown
