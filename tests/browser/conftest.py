"""One browser for all tests of the pages, and the pages of every sample in every language.

`make a11y` runs these; `make test` does without them, so that it needs nothing but Python. Where
there is no browser they fail and say how to get one: a page nobody looked at is not accessible.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, sync_playwright

FOUND_AS = ("chromium", "chromium-browser", "google-chrome")
ARGUMENTS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
)
HOW = (
    "These tests need the browser Chromium. On Debian or Ubuntu: apt-get install chromium. "
    "Elsewhere install it and name its program in WELLTOLD_CHROMIUM."
)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    named = os.environ.get("WELLTOLD_CHROMIUM")
    program = named or next(filter(None, map(shutil.which, FOUND_AS)), None)
    if program is None:
        pytest.fail(HOW)
    with sync_playwright() as driver:
        chromium = driver.chromium.launch(executable_path=program, args=list(ARGUMENTS))
        yield chromium
        chromium.close()
