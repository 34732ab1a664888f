"""What was not tested and usually should be in a private well."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from ..interpretation import Finding
from ..messages import say
from ..reading import Taken
from .names import name_of
from .tables import core_tests

MOST = 8
STOOD: frozenset[Taken | None] = frozenset({"first_draw", None})
"""Ways of taking a sample after which a first-draw sample is not known to be missing."""


def untested(
    tested: Collection[str], found: Collection[str], *, lead_stood: bool
) -> tuple[Finding, ...]:
    """Return the missing tests as findings, most valuable first, at most eight.

    ``tested`` are the slugs with a result in any form, ``found`` those that were found;
    ``lead_stood``: lead was tested in water that may have stood in the pipes.
    """
    return tuple(_listed(tested, found, lead_stood=lead_stood))[:MOST]


def _listed(
    tested: Collection[str], found: Collection[str], *, lead_stood: bool
) -> Iterator[Finding]:
    for test in core_tests():
        if test.if_found is not None and test.if_found not in found:
            continue
        if not set(test.met_by) & set(tested):
            yield _missing(test.slug, test.why)
        elif test.slug == "lead" and not lead_stood:
            yield _missing("lead", "lead_first_draw")


def _missing(slug: str, why: str) -> Finding:
    name = name_of(slug, slug)
    return Finding(slug, name, "", "not_tested", why=(say(f"verdict.untested_{why}"),))
