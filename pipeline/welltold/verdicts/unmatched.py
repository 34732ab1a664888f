"""What a site file says that this sheet, or this version, has no use for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from ..messages import Message, say
from ..reading import Reading

if TYPE_CHECKING:
    from ..site import Site


def site_notes(site: Site, reading: Reading) -> Iterator[Message]:
    """Yield one note for each thing of the site file that stays without effect."""
    there = [sample.id for sample in reading.samples if sample.id]
    for name in site.samples:
        if name not in there:
            code = "site.sample_unknown" if there else "site.sample_without_number"
            yield say(code, id=name, ids=", ".join(there))
