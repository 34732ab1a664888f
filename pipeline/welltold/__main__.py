"""The command ``welltold``."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command. The version is answered without loading anything else."""
    if sys.argv[1:] == ["--version"]:
        from . import __version__

        sys.stdout.write(f"welltold {__version__}\n")
        return
    from .command import run

    run()


if __name__ == "__main__":
    main()
