"""What a text file is: markup, separated cells, or plain text."""

from __future__ import annotations

from welltold_parsers.doors.separator import find_separator

_LOOK_AT = 4096
_STRANGE_SHARE = 0.005
_HTML = ("<html", "<!doctype html", "<table", "<body", "<head", "<meta", "<div", "<style")
_HTML_LINES = ("<p", "<h1", "<h2", "<font", "<center", "<pre", "<br")
_SPREADSHEET = "urn:schemas-microsoft-com:office:spreadsheet"


def text_kind(text: str) -> str | None:
    """Return "html", "xml2003", "separated" or "text"; None for data that is not read as text.

    That is binary data, and text made for machines: JSON, other XML, mail archives.
    """
    head = text[:_LOOK_AT]
    strange = sum(letter < " " and letter not in "\t\r\n\f\x0b\x1a" for letter in head)
    if head.count("\ufffd") + strange > _STRANGE_SHARE * len(head):
        return None
    start = head.lstrip("\ufeff \t\r\n").lower()
    if start.startswith("<"):
        return _markup(start)
    if start.startswith(("{", "[{", "[\n", "mime-version:")):
        return None
    return "text" if find_separator(text) is None else "separated"


def _markup(head: str) -> str | None:
    if _SPREADSHEET in head and "<html" not in head:
        return "xml2003"
    return "html" if any(tag in head for tag in _HTML) or head.startswith(_HTML_LINES) else None
