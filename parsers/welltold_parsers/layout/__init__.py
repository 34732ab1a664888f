"""The layout engine: a document's words or cells in, a reading out.

lines       words to lines of cells; rows of a sheet
heads       which lines are the head of a table
tables      cuts a page into tables and free lines
columns     the columns of a table on a page
content     what the cells of a column look like
roles       what each column is
rows        a table with one analyte a row          wraps: names on several lines
across      a table with one analyte a column
loose       pairs, tables without a head, letters
sample_list a list of samples
metadata    keys and values                         samples: which sample a result belongs to
build       the printed pieces to a result          unit_choice, nondetect, doubt
document    the whole file in order                 repeats: results printed twice
"""

from __future__ import annotations

from .document import read_document

__all__ = ["read_document"]
