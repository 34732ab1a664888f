"""The next sample: which bottles, how each is filled, by when it must be at the lab.

Facts and times come from ``data/sample_bottles.csv`` and ``data/sample_tests.csv``, each with its
source. The lab's own leaflet comes first, and the cards say so.
"""

from .cards import SampleCard, sample_cards
from .shock import ShockCard, shock_card

__all__ = ["SampleCard", "ShockCard", "sample_cards", "shock_card"]
