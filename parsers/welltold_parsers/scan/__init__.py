"""Pictures of sheets: scans, faxes, photos in, pages of words with boxes out.

From a file to pictures
    pictures    files of pictures, each of their pages      shot       one of them, on its way
    models      the two networks, loaded once               crew       processes that read pages
    helper      one of those processes

From a picture to a page
    light       evens out shadows and tinted paper          straight   sheets, cut out of a photo
    upright     turns, levels and reads a page              cut_off    print over the edge
    one_above   two sheets, one above the other
    two_sheets  parted, one below the other                 chosen     answers told by their marks
    outlines    boxes, marks and rings of a form            answer_words  what a form offers
    tick_boxes  boxes before all else that can be ticked    standing   heads that stand on end
    detect      where lines of print are                    recognise  what stands in a line
    words       cuts lines into words                       pages      all of it in order
    spacing     blanks told from gaps of columns            repairs    certain repairs, told
    specks      taken off a fax                             misread_units, misread_words  mended
    swallowed   blanks and low figures, given back
    level       skew and perspective, by the rows           rows       made level in two ways
    leftover    how much lean is left                       pdf_pages  pictures on pages of a PDF
    poor        says why a picture cannot be read           layers     hidden text of a scanner

From a reading to its doubts
    second      every value read again, and judged          glyphs     its ink counted
    crops       the picture of one value                    beside     its name and unit
    hidden      text behind a picture that nobody read      column     decimals of its neighbours
    hand        figures of a hand told from print           limit_digits  decimals of its limit
    unread_ink  figures in a column of values that nobody has read

Needs the extra ``welltold[scan]``; `available` says whether it is installed, and loads nothing.
"""

from __future__ import annotations

from .models import available

__all__ = ["available"]
