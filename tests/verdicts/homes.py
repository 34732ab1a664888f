"""Homes for the tests of what a verdict says to whom."""

from __future__ import annotations

from typing import Any

from welltold.site import Home, Site


def home(*persons: Any, **more: Any) -> Site:
    return Site(home=Home(persons=persons, **more))
