"""Settings of the whole test suite."""

from __future__ import annotations

from hypothesis import settings

# Speed is measured by `make bench`, as ratios; a busy machine must not make a property fail.
settings.register_profile("welltold", deadline=None)
settings.load_profile("welltold")
