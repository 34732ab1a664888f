"""The proving ground: varied sheets with their truth, and a scorer for readings of them."""
