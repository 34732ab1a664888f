"""What the well pump gives, from the tests of the site file; what they do not tell is asked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from ..interpretation import Condition, Worked
from ..site import Site, Well
from ..site_keys import Timed
from .rules import number, rule
from .sized import ARITHMETIC, PRACTICE, Page
from .written import down

How = Literal["bucket", "drawdown", "pump_gpm"]


@dataclass(frozen=True, slots=True)
class PumpFlow:
    """What the pump gives, in US gallons a minute; None: nobody timed it."""

    gpm: Decimal | None
    """Exact as measured, the slowest test."""
    floor_gpm: int | None
    """Rounded down to whole gallons; a tank is chosen by this one."""
    how: How | None
    """The test that decided."""
    at_psi: Decimal | None
    """Pressure at which it was measured; None: at an open tap, or nobody read a gauge."""
    conditions: tuple[Condition, ...] = ()
    worked: tuple[Worked, ...] = ()

    @property
    def proven(self) -> bool:
        """Whether the flow is known at the pressure that a backwash works against."""
        if self.how == "drawdown":
            return self.at_psi is None or self.at_psi >= number("pressure_to_prove")
        return self.at_psi is not None and self.at_psi >= number("pressure_to_prove")

    def carries(self, gpm: Decimal) -> bool | None:
        """Return whether the pump gives so much, rounded down; None where nobody timed it."""
        return None if self.floor_gpm is None else self.floor_gpm >= gpm


def pump_flow(site: Site) -> PumpFlow:
    """Return the slowest of the pump tests told, with what speaks against them."""
    well, page = site.well, Page()
    tests = dict(_tests(well, page))
    told = {how: gpm for how, gpm in tests.items() if gpm > 0}
    if len(told) < len(tests):
        page.ask("pump_zero", PRACTICE)
    if not told:
        page.ask("pump_unknown", PRACTICE)
        return PumpFlow(None, None, None, None, tuple(page.conditions))
    how = min(told, key=lambda name: told[name])
    gpm = told[how]
    page.put("size.pump_gpm", gpm, "gpm", "pump_slowest", ARITHMETIC)
    page.put("size.pump_floor_gpm", down(gpm), "gpm", "pump_floor", PRACTICE, gpm=gpm)
    at_psi = _pressure(how, well)
    _doubts(told, gpm, well, page)
    return PumpFlow(gpm, int(gpm), how, at_psi, tuple(page.conditions), tuple(page.worked))


def _tests(well: Well, page: Page) -> Iterator[tuple[How, Decimal]]:
    if (bucket := well.bucket) is not None:
        gpm = _rate(bucket)
        page.put(
            "size.bucket_gpm",
            gpm,
            "gpm",
            "bucket",
            ARITHMETIC,
            gal=bucket.gallons,
            seconds=bucket.seconds,
        )
        yield "bucket", gpm
    if (drawdown := well.drawdown) is not None:
        gpm = _rate(drawdown)
        source = "Pump flow from draw-down and recovery, trade note; arithmetic"
        page.put(
            "size.drawdown_gpm",
            gpm,
            "gpm",
            "drawdown",
            source,
            gal=drawdown.gallons,
            seconds=drawdown.seconds,
        )
        yield "drawdown", gpm
    if well.pump_gpm is not None:
        yield "pump_gpm", well.pump_gpm


def _rate(timed: Timed) -> Decimal:
    """Return gallons a minute; 0 where no time went by, which nobody can have measured."""
    return 60 * timed.gallons / timed.seconds if timed.seconds > 0 else Decimal(0)


def _pressure(how: How, well: Well) -> Decimal | None:
    if how == "drawdown":
        low, high = well.pressure_psi or (None, None)
        return None if low is None or high is None else (low + high) / 2
    return well.gauge_psi if how == "bucket" else None


def _doubts(told: dict[How, Decimal], gpm: Decimal, well: Well, page: Page) -> None:
    """Tell what cannot be so, or what would make the figure smaller."""
    plausible = rule("flow_most_plausible")
    if gpm > plausible.value:
        page.ask("pump_huge", plausible.citation, gpm=gpm, most=plausible.value)
    if gpm < 1:
        page.ask("pump_tiny", PRACTICE, gpm=gpm)
    agree = rule("tests_agree")
    most = max(told.values())
    if most > agree.value * gpm:
        code = "pump_flattered" if _flattered(told, gpm) else "pump_tests"
        page.ask(code, agree.citation, least=gpm, most=most)
    if well.gauge_psi is not None and well.pressure_psi and well.bucket is not None:
        cut_out = well.pressure_psi[1]
        if well.gauge_psi >= cut_out:
            page.ask("pump_off", PRACTICE, gauge=well.gauge_psi, cut_out=cut_out)


def _flattered(told: dict[How, Decimal], gpm: Decimal) -> bool:
    """Return whether only the open tap gave more, as an open tap does."""
    others = [flow for how, flow in told.items() if how != "bucket"]
    return bool(others) and max(others) <= number("tests_agree") * gpm
