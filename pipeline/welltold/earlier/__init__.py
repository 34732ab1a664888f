"""Earlier sheets of the same well beside the present one: what can be compared, and what cannot.

Nothing here judges a change: two or three samples prove none. It puts the same analyte of the same
tap side by side, in one unit and basis, and tells why where it does not.
"""

from .beside import with_earlier

__all__ = ["with_earlier"]
