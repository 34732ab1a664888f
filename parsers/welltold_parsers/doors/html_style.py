"""What the style sheets within a page hide: ".template { display: none }"."""

from __future__ import annotations

import re

from lxml import etree

_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
_CONDITIONAL = re.compile(r"@[^{};]*(?:;|\{(?:[^{}]*\{[^{}]*\})*[^{}]*\})")
"""Rules for print or for narrow screens say nothing of the page as it is seen."""
_RULE = re.compile(r"([^{}]+)\{([^{}]*)\}")
_HIDES = re.compile(r"(?:display\s*:\s*none|visibility\s*:\s*hidden)", re.IGNORECASE)
_SHOWS = re.compile(r"(?:display\s*:|visibility\s*:\s*visible)", re.IGNORECASE)
_PLAIN = re.compile(r"[a-z0-9]*([.#])([\w-]+)", re.IGNORECASE)
_NAMES = re.compile(r"[.#][\w-]+")


def mark_hidden(root: etree._Element) -> None:
    """Give the attribute ``hidden`` to every element that a style sheet of the page hides.

    Only plain selectors count, of one class or one identity; and none that another rule shows
    again, as the sheets behind tabs are.
    """
    styles = "\n".join(element.text or "" for element in root.iter("style"))
    hidden = _hidden(_CONDITIONAL.sub("", _COMMENT.sub("", styles)))
    if not hidden:
        return
    for element in root.iter(etree.Element):
        names = {f".{name}" for name in element.get("class", "").split()}
        names.add(f"#{element.get('id', '')}")
        if names & hidden:
            element.set("hidden", "")


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
