"""What a doubtful check is about, so that a report can say it in one sentence of its own."""

from __future__ import annotations

from typing import Literal

from ..interpretation import Check

About = Literal["disagree", "strange", "waiting", "dates", "place"]
"""``disagree``: numbers against each other; ``strange``: a single number; ``waiting``: a test that
came late; ``dates``: dates that cannot be; ``place``: where the water was taken."""
_ABOUT: dict[str, About] = {
    "hold_time": "waiting",
    "dates": "dates",
    "behind_equipment": "place",
    "natural_range": "strange",
    "possible_value": "strange",
    "unit_slip": "strange",
}


def doubt_about(check: Check) -> About:
    """Return what a check doubts."""
    return _ABOUT.get(check.check.partition(":")[0], "disagree")
