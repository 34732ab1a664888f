"""Who hands the report over: a small band at the top, and a part of its own at the end.

It stands apart from the findings and says so. Its size is bounded by `welltold.letterhead`.
"""

from __future__ import annotations

import base64
from dataclasses import dataclass
from html import escape

from welltold.letterhead import Letterhead
from welltold.logo import Logo
from welltold.messages import say

from .visible import only_visible


@dataclass(frozen=True, slots=True)
class LogoPicture:
    """A logo with its text alternative."""

    address: str
    """The picture itself, as a ``data:`` address."""
    svg: str
    """The same inside an SVG picture."""
    width: int
    height: int
    alt: str


@dataclass(frozen=True, slots=True)
class Sender:
    """What a letterhead adds to the pages."""

    logo: LogoPicture | None
    band: tuple[str, ...]
    """The name, then how to reach it, for the top of the first page."""
    heading: str
    apart: str
    """That these words are not the lab's."""
    lines: tuple[str, ...]
    closing: str


def sender_of(letterhead: Letterhead | None) -> Sender | None:
    """Return what a letterhead says, in the language spoken; None for an empty one."""
    if letterhead is None or letterhead == Letterhead():
        return None
    name = letterhead.name
    short = " · ".join(filter(None, (letterhead.phone, letterhead.web)))
    reach = " · ".join(filter(None, (letterhead.phone, letterhead.email, letterhead.web)))
    sender = Sender(
        logo=_picture(letterhead.logo, name) if letterhead.logo else None,
        band=tuple(filter(None, (name and say("letterhead.band", name=name).text, short))),
        heading=_told("head", name),
        apart=say("letterhead.apart").text,
        lines=tuple(filter(None, (", ".join(letterhead.address), reach))),
        closing=letterhead.closing,
    )
    return only_visible(sender)


def sender_text(sender: Sender) -> str:
    """Return the sender's part for a plain e-mail."""
    parts = (sender.heading, sender.apart, sender.closing, *sender.lines)
    return "\n".join(filter(None, parts)) + "\n"


def _told(what: str, name: str) -> str:
    told = say(f"letterhead.{what}", name=name) if name else say(f"letterhead.{what}_plain")
    return told.text


def _picture(logo: Logo, name: str) -> LogoPicture:
    address = f"data:image/{logo.kind};base64,{base64.b64encode(logo.data).decode()}"
    size = f'width="{logo.width}" height="{logo.height}"'
    spaces = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    svg = f'<svg {spaces} {size}><image {size} xlink:href="{escape(address)}"/></svg>'
    return LogoPicture(address, svg, logo.width, logo.height, _told("logo", name))
