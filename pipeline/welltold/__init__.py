"""welltold: from a private well's lab sheet to a report that can be handed over.

    import welltold

    reading = welltold.read("sheet.pdf")
    view = welltold.interpret(reading)
    welltold.write(view, "out/", formats=["html", "pdf"])

This package holds the public face, the command, and the knowledge and computation (analytes, units,
values, levels, checks, treatment). Its core modules import neither ``welltold_parsers`` nor
``welltold_reports``; only the public face, the command and the batch do, when they are called.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from .errors import ExitCode, WelltoldError
    from .face import interpret, read, write
    from .interpretation import Interpretation
    from .reading import Reading
    from .site import Site, load_site

__version__ = "0.1.0"

__all__ = [
    "ExitCode",
    "Interpretation",
    "Reading",
    "Site",
    "WelltoldError",
    "__version__",
    "interpret",
    "load_site",
    "read",
    "write",
]

_HOMES = {
    "ExitCode": "errors",
    "Interpretation": "interpretation",
    "Reading": "reading",
    "Site": "site",
    "WelltoldError": "errors",
    "interpret": "face",
    "load_site": "site",
    "read": "face",
    "write": "face",
}


def __getattr__(name: str) -> Any:
    """Load a public name when it is first used, so that ``import welltold`` costs nothing."""
    if name not in _HOMES:
        raise AttributeError(f"module 'welltold' has no attribute {name!r}")
    return getattr(import_module(f".{_HOMES[name]}", __name__), name)
