"""Many files: one report each, one summary, failures set aside, and a journal to go on from.

``files`` finds what to read, ``worker`` does one file in a child process that may die, ``journal``
remembers what is done, ``run`` puts them together, ``tables`` writes what came of it.
"""

from .run import Options, Outcome, SetAside, run, why_anew

__all__ = ["Options", "Outcome", "SetAside", "run", "why_anew"]
