"""Small samples, as a sheet prints them, and their checks."""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

from welltold.analytes import registry
from welltold.checks import check_sample
from welltold.interpretation import Check, Finding
from welltold.reading import Result, Sample
from welltold.site import Site

NUMBER = re.compile(r"([<>]?)\s*(-?[\d.]+)")


def row(slug: str, text: str, unit: str | None = None, **more: Any) -> Result:
    """Return a result: "5", "<0.5", "> 200", "Present", "Absent"; in the analyte's unit."""
    own = registry()[slug]
    given: dict[str, Any] = {"unit": unit or own.unit, "basis": own.basis if unit is None else None}
    if text in {"Present", "Absent"}:
        given |= {"state": text.lower(), "present": text == "Present", "unit": None}
    else:
        found = NUMBER.fullmatch(text)
        assert found, text
        sign = found[1]
        state = {"<": "below", ">": "above"}.get(sign, "value")
        given |= {"state": state, "operator": sign or "=", "value": Decimal(found[2])}
    return Result(slug, own.name, text, **(given | more))


def checks(
    *rows: Result, findings: tuple[Finding, ...] = (), site: Site | None = None, **sample: Any
) -> dict[str, Check]:
    """Return the checks of a sample with these results, by name."""
    made = check_sample(Sample(results=rows, **sample), findings, site or Site())
    names = [check.check for check in made]
    assert len(names) == len(set(names)), "each check once"
    return {check.check: check for check in made}


def analytes(check: Check) -> set[str]:
    """Return the slugs that a doubt concerns."""
    found = [m.args["analytes"] for m in check.why if m.code == "check.doubts"]
    assert len(found) <= (check.outcome == "doubt")
    return set(found[0].split("|")) if found else set()


def codes(check: Check) -> list[str]:
    """Return the names of the sentences."""
    return [message.code.removeprefix("check.") for message in check.why]
