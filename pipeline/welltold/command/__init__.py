"""The command line: parses, calls the library, maps errors to exit codes.

One module a command. stdout is for the product, stderr for messages and progress; each module
loads what it needs only when its command runs.
"""

from .app import run

__all__ = ["run"]
