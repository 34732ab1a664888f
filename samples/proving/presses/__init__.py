"""Presses: a leaf of blocks in, the bytes of a file out."""
