"""Settings of the whole test suite."""

from __future__ import annotations

import os

from hypothesis import settings

# Speed is measured by `make bench`, as ratios; a busy machine must not make a property fail.
# On CI the examples are the same each time; at a developer's desk they are new ones.
settings.register_profile("welltold", deadline=None, derandomize=bool(os.environ.get("CI")))
settings.load_profile("welltold")
