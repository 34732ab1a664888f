"""Boxes and rings that are drawn on a PDF page become signs beside the words they stand at.

Places are counted by hand: a page is 612 by 792 points, a text set at (x, y) from the bottom stands
at 792 - y from the top.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pypdfium2
import pytest
from reportlab.pdfgen.canvas import Canvas

from welltold_parsers.doors import open_document
from welltold_parsers.geometry import Word

Draw = Callable[[Canvas, float], None]
"""Draws the mark of a box whose left edge is given; its foot is at 699, its side 8."""


def opened(path: Path, draw: Callable[[Canvas], None], turn: int = 0) -> tuple[Word, ...]:
    canvas = Canvas(str(path), pagesize=(612, 792), invariant=True)
    canvas.setFont("Helvetica", 9)
    draw(canvas)
    canvas.save()
    if turn:
        document = pypdfium2.PdfDocument(path)
        document[0].set_rotation(turn)
        turned = path.with_name("turned.pdf")
        document.save(turned)
        document.close()
        path = turned
    return open_document(path).pages[0].words


def line(words: tuple[Word, ...]) -> list[str]:
    return [w.text for w in sorted(words, key=lambda w: w.left)]


def slip(mark: Draw | None, *, both: bool = False) -> Callable[[Canvas], None]:
    """Draw "Coliform  [ ] Absent  [mark] Present" on a line whose foot is at 700."""

    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "Coliform")
        for left, word in ((200, "Absent"), (300, "Present")):
            canvas.rect(left, 699, 8, 8)
            canvas.drawString(left + 12, 700, word)
        for left in (200, 300) if both else (300,):
            if mark is not None:
                mark(canvas, left)

    return draw


def _cross(canvas: Canvas, left: float) -> None:
    canvas.line(left, 699, left + 8, 707)
    canvas.line(left, 707, left + 8, 699)


def _hook(canvas: Canvas, left: float) -> None:
    path = canvas.beginPath()
    path.moveTo(left + 1, 703)
    path.lineTo(left + 3, 700)
    path.lineTo(left + 7, 707)
    canvas.drawPath(path)


def _filled(canvas: Canvas, left: float) -> None:
    canvas.rect(left, 699, 8, 8, fill=1)


def _dingbat(canvas: Canvas, left: float) -> None:
    canvas.setFont("ZapfDingbats", 9)
    canvas.drawString(left + 0.5, 700.5, "4")


def _letter(canvas: Canvas, left: float) -> None:
    canvas.setFont("Helvetica-Bold", 9)
    canvas.drawString(left + 1, 700, "X")


@pytest.mark.parametrize("mark", [_cross, _hook, _filled, _dingbat, _letter])
def test_a_marked_square_is_a_ticked_box(tmp_path: Path, mark: Draw) -> None:
    words = opened(tmp_path / "slip.pdf", slip(mark))
    assert line(words) == ["Coliform", "☐", "Absent", "☒", "Present"]


def test_a_box_stands_where_it_is_drawn(tmp_path: Path) -> None:
    words = opened(tmp_path / "slip.pdf", slip(_cross))
    (box,) = (w for w in words if w.text == "☒")
    # The ends of the cross reach over the corners by as much as the pen is wide, and a half.
    assert (box.left, box.right) == pytest.approx((300, 308), abs=1.5)


def test_two_empty_and_two_full_boxes_are_told_so(tmp_path: Path) -> None:
    assert line(opened(tmp_path / "a.pdf", slip(None)))[1::2] == ["☐", "☐"]
    assert line(opened(tmp_path / "b.pdf", slip(_cross, both=True)))[1::2] == ["☒", "☒"]


@pytest.mark.parametrize("turn", [90, 180, 270])
def test_a_turned_page_keeps_its_boxes_beside_their_words(tmp_path: Path, turn: int) -> None:
    words = opened(tmp_path / "slip.pdf", slip(_cross), turn)
    assert line(words) == ["Coliform", "☐", "Absent", "☒", "Present"]


def test_a_faint_speck_in_a_box_settles_nothing(tmp_path: Path) -> None:
    def speck(canvas: Canvas, left: float) -> None:
        canvas.rect(left + 3.8, 702.8, 0.6, 0.6, fill=1, stroke=0)

    assert line(opened(tmp_path / "slip.pdf", slip(speck))) == [
        "Coliform",
        "☐",
        "Absent",
        "[?]",
        "Present",
    ]


def test_a_ring_with_a_dot_is_a_ticked_box(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        for left, word in ((200, "Absent"), (300, "Present")):
            canvas.circle(left, 703, 4)
            canvas.drawString(left + 8, 700, word)
        canvas.circle(200, 703, 2, fill=1)

    assert line(opened(tmp_path / "slip.pdf", draw)) == ["☒", "Absent", "☐", "Present"]


@pytest.mark.parametrize(("left", "right", "told"), [(215, 262, "☒ ☐"), (266, 307, "☐ ☒")])
def test_a_circled_word_is_the_ticked_one(tmp_path: Path, left: int, right: int, told: str) -> None:
    def draw(canvas: Canvas) -> None:
        # In Helvetica 9 PRESENT ends at 262.5, and ABSENT reaches from 270.0 to 306.0.
        canvas.drawString(220, 700, "PRESENT / ABSENT")
        canvas.ellipse(left, 694, right, 712)

    words = line(opened(tmp_path / "slip.pdf", draw))
    first, second = told.split()
    assert [w for w in words if w != "/"] == [first, "PRESENT", second, "ABSENT"]


def test_a_page_that_offers_no_answers_keeps_its_squares_to_itself(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.rect(200, 699, 8, 8)
        canvas.drawString(212, 700, "Present in the sample")

    assert "☐" not in line(opened(tmp_path / "slip.pdf", draw))


def test_a_digit_in_a_square_is_no_tick(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        slip(None)(canvas)
        canvas.drawString(201.5, 700, "7")

    assert line(opened(tmp_path / "slip.pdf", draw)) == [
        "Coliform",
        "7",
        "Absent",
        "☐",
        "Present",
    ]


def test_squares_far_from_any_answer_are_left_alone(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        slip(_cross)(canvas)
        canvas.rect(72, 740, 8, 8)
        canvas.drawString(84, 740, "Drilled well")

    words = line(opened(tmp_path / "slip.pdf", draw))
    assert sum(text in {"☐", "☒"} for text in words) == 2


def test_a_form_field_and_its_own_picture_are_one_box(tmp_path: Path) -> None:
    def draw(canvas: Canvas) -> None:
        for left, word, on in ((200, "Absent", True), (300, "Present", False)):
            canvas.acroForm.checkbox(
                name=word, checked=on, x=left, y=699, size=10, buttonStyle="cross"
            )
            canvas.drawString(left + 14, 700, word)

    words = opened(tmp_path / "slip.pdf", draw)
    assert line(words) == ["☑", "Absent", "☐", "Present"]
