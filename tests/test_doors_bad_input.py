"""Every bad file gets its own error, and no error of a library escapes."""

from __future__ import annotations

import io
import random
import zipfile
from pathlib import Path

import openpyxl
import pikepdf
import pytest
import xlwt
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from welltold.errors import (
    DamagedFileError,
    EmptyFileError,
    FileMissingError,
    PasswordError,
    PicturesOnlyError,
    TooLargeError,
    UnknownFileError,
    WelltoldError,
)
from welltold_parsers.doors import DOORS, Limits, open_document


def pdf(*pages: str) -> bytes:
    """Return a PDF; a page named "picture" holds a picture and no text."""
    out = io.BytesIO()
    canvas = Canvas(out)
    for page in pages:
        if page == "picture":
            shade = Image.new("L", (60, 80), 128)
            canvas.drawImage(ImageReader(shade), 0, 0, 595, 842)
        else:
            canvas.drawString(72, 700, page)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def locked(data: bytes) -> bytes:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as document:
        document.save(out, encryption=pikepdf.Encryption(owner="o", user="u"))
    return out.getvalue()


def xlsx() -> bytes:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    for row in range(1, 30):
        sheet.append([f"Analyte {row}", row * 0.37, "mg/L"])
        sheet.cell(row, 2).number_format = "0.00"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def xls() -> bytes:
    book = xlwt.Workbook()
    sheet = book.add_sheet("Results")
    for row in range(30):
        sheet.write(row, 0, f"Analyte {row}")
        sheet.write(row, 1, row * 0.37, xlwt.easyxf(num_format_str="0.00"))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def ods() -> bytes:
    name = "urn:oasis:names:tc:opendocument:xmlns:"
    cell = "<t:table-cell o:value-type='float' o:value='{0}'><x:p>{0}</x:p></t:table-cell>"
    rows = "".join(f"<t:table-row>{cell.format(n)}</t:table-row>" for n in range(30))
    content = (
        f"<o:document-content xmlns:o='{name}office:1.0' xmlns:t='{name}table:1.0' "
        f"xmlns:x='{name}text:1.0'><o:body><o:spreadsheet><t:table t:name='S'>{rows}</t:table>"
        "</o:spreadsheet></o:body></o:document-content>"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr("content.xml", content, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def archive(*names: str) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        for name in names:
            made.writestr(name, "x")
    return out.getvalue()


def picture(kind: str) -> bytes:
    out = io.BytesIO()
    Image.new("RGB", (9, 9)).save(out, kind)
    return out.getvalue()


OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504)
XML_2003 = (
    b"<?xml version='1.0'?><Workbook xmlns='urn:schemas-microsoft-com:office:spreadsheet'>"
    b"<Worksheet><Table>%b</Table></Worksheet></Workbook>"
)
STATED = Limits()
TEXT_PDF, TWO_PAGES = pdf("Lead 0.5"), pdf("Lead 0.5", "Iron 0.1")


def refused(tmp_path: Path, data: bytes, limits: Limits = STATED) -> WelltoldError:
    path = tmp_path / "file.csv"
    path.write_bytes(data)
    with pytest.raises(WelltoldError) as raised:
        open_document(path, limits)
    assert "file.csv" in str(raised.value)
    return raised.value


@pytest.mark.parametrize("data", [b"", b" \n\n", b"\xef\xbb\xbf", b"\xff\xfe", bytes(500)])
def test_an_empty_file(tmp_path: Path, data: bytes) -> None:
    assert isinstance(refused(tmp_path, data), EmptyFileError)


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(FileMissingError):
        open_document(tmp_path / "nowhere.pdf")
    with pytest.raises(FileMissingError):
        open_document(tmp_path)


@pytest.mark.parametrize(
    ("data", "looks_like"),
    [
        (b"\0\0\0\x18ftypmp42" + bytes(99), "film"),
        (archive("word/document.xml", "[Content_Types].xml"), "Word"),
        (archive("ppt/presentation.xml", "[Content_Types].xml"), "PowerPoint"),
        (archive("xl/workbook.bin", "[Content_Types].xml"), "XLSB"),
        (archive("a.txt"), "ZIP"),
        (OLE + "WordDocument".encode("utf-16-le") + bytes(4000), "Word"),
        (b"{\\rtf1 Lead 0.5}", "RTF"),
        (b'{"schema": 1}', "JSON"),
        (b"<?xml version='1.0'?><lab><x/></lab>", "XML"),
        (b"MIME-Version: 1.0\nContent-Type: multipart/related", "MHTML"),
        (b"\x1f\x8b\x08" + bytes(range(90)), "gzip"),
        (bytes(range(256)) * 9, "binary"),
    ],
)
def test_a_file_of_another_kind_is_named(tmp_path: Path, data: bytes, looks_like: str) -> None:
    error = refused(tmp_path, data)
    assert isinstance(error, UnknownFileError)
    assert looks_like in str(error)


@pytest.mark.parametrize("start", ["BMR Laboratories\nLead   0.5\n", "MZ,Lead,0.5\nMZ,Iron,1\n"])
def test_words_that_begin_like_a_picture_are_words(tmp_path: Path, start: str) -> None:
    path = tmp_path / "file.pdf"
    path.write_text(start)
    assert open_document(path).kind in {"text", "separated"}


def test_a_pdf_with_a_password(tmp_path: Path) -> None:
    assert isinstance(refused(tmp_path, locked(TEXT_PDF)), PasswordError)


def test_a_workbook_with_a_password(tmp_path: Path) -> None:
    data = OLE + "EncryptedPackage".encode("utf-16-le") + bytes(4000)
    assert isinstance(refused(tmp_path, data), PasswordError)


@pytest.fixture
def without_scan(monkeypatch: pytest.MonkeyPatch) -> None:
    """The parts of the extra that reads pictures are not installed."""
    monkeypatch.setattr("welltold_parsers.scan.models._NEEDED", ("no_such_part",))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "GIF", "TIFF", "BMP", "WEBP"])
@pytest.mark.usefixtures("without_scan")
def test_a_picture_without_the_extra_says_how_to_get_it(tmp_path: Path, kind: str) -> None:
    error = refused(tmp_path, picture(kind))
    assert isinstance(error, PicturesOnlyError)
    assert 'pip install "welltold[scan]"' in error.hint


@pytest.mark.usefixtures("without_scan")
def test_pages_of_pictures_only(tmp_path: Path) -> None:
    error = refused(tmp_path, pdf("picture", "picture"))
    assert isinstance(error, PicturesOnlyError)
    assert error.args[1] == 2


@pytest.mark.usefixtures("without_scan")
def test_a_picture_with_a_stamp_is_still_a_picture(tmp_path: Path) -> None:
    out = io.BytesIO()
    canvas = Canvas(out)
    canvas.drawImage(ImageReader(Image.new("L", (60, 80), 128)), 0, 0, 595, 842)
    canvas.drawString(72, 20, "Signed electronically 2026")
    canvas.save()
    assert isinstance(refused(tmp_path, out.getvalue()), PicturesOnlyError)


@pytest.mark.usefixtures("without_scan")
def test_pages_of_pictures_among_pages_of_text_are_told(tmp_path: Path) -> None:
    path = tmp_path / "file.pdf"
    path.write_bytes(pdf("Lead 0.5", "picture", "Iron 0.1", "picture", "picture"))
    document = open_document(path)
    assert [warning.code for warning in document.warnings] == ["door.picture_pages"]
    assert document.warnings[0].args["pages"] == "2, 4-5"
    assert [len(page.words) for page in document.pages] == [2, 0, 2, 0, 0]


@pytest.mark.parametrize("share", [0.2, 0.5, 0.9, 0.97])
def test_a_pdf_that_is_cut_off(tmp_path: Path, share: float) -> None:
    data = TWO_PAGES[: int(len(TWO_PAGES) * share)]
    assert isinstance(refused(tmp_path, data), DamagedFileError)


def test_a_web_ready_pdf_that_is_cut_off(tmp_path: Path) -> None:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf(*("Lead 0.5" * 20 for _ in range(9))))) as document:
        document.save(out, linearize=True)
    data = out.getvalue()
    assert b"%%EOF" in data[:4000]
    assert isinstance(refused(tmp_path, data[:-500]), DamagedFileError)


@pytest.mark.parametrize("data", [xlsx(), xls(), ods()])
@pytest.mark.parametrize("share", [0.3, 0.7, 0.95])
def test_a_workbook_that_is_cut_off(tmp_path: Path, data: bytes, share: float) -> None:
    assert isinstance(refused(tmp_path, data[: int(len(data) * share)]), DamagedFileError)


def test_the_limits_are_stated_and_can_be_changed(tmp_path: Path) -> None:
    pages = refused(tmp_path, TWO_PAGES, Limits(pages=1))
    assert isinstance(pages, TooLargeError)
    assert str(pages).endswith("2 pages, the limit is 1.")
    assert len(open_document(tmp_path / "file.csv", Limits(pages=2)).pages) == 2
    for data, limits in (
        (TWO_PAGES, Limits(file_bytes=100)),
        (TWO_PAGES, Limits(words=1)),
        (xlsx(), Limits(cells=10)),
        (xls(), Limits(cells=10)),
        (ods(), Limits(cells=10)),
        (xlsx(), Limits(unzipped=1000)),
        (b"a,b\n" * 9, Limits(cells=10)),
        (b"<table>" + b"<tr><td>a<td>b" * 9, Limits(cells=10)),
        (XML_2003 % (b"<Row><Cell><Data>a</Data></Cell></Row>" * 20), Limits(cells=10)),
        (b"one page\f" * 9, Limits(pages=8)),
    ):
        assert isinstance(refused(tmp_path, data, limits), TooLargeError)


def test_a_small_archive_that_unfolds_without_end(tmp_path: Path) -> None:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as bomb:
        bomb.writestr("xl/workbook.xml", "<workbook/>")
        with bomb.open("xl/worksheets/sheet1.xml", "w", force_zip64=True) as part:
            for _ in range(320):
                part.write(b" " * 1_000_000)
    assert len(out.getvalue()) < 1_000_000
    assert isinstance(refused(tmp_path, out.getvalue()), TooLargeError)


def test_entities_that_unfold_without_end(tmp_path: Path) -> None:
    entities = "".join(f"<!ENTITY a{n} '{f'&a{n - 1};' * 9}'>" for n in range(1, 9))
    doctype = f"<!DOCTYPE x [<!ENTITY a0 'aaaaaaaaa'>{entities}]>"
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as bomb:
        bomb.writestr("xl/workbook.xml", f"{doctype}<workbook>&a8;</workbook>")
    error = refused(tmp_path, out.getvalue())
    assert isinstance(error, DamagedFileError)
    assert "document type" in str(error)


def test_a_repeated_ods_cell_that_unfolds_without_end(tmp_path: Path) -> None:
    data = ods()
    path = tmp_path / "bomb.ods"
    with zipfile.ZipFile(io.BytesIO(data)) as old, zipfile.ZipFile(path, "w") as new:
        for name in old.namelist():
            text = old.read(name).replace(
                b"<t:table-cell ", b"<t:table-cell t:number-columns-repeated='99999999' "
            )
            new.writestr(name, text)
    with pytest.raises(TooLargeError):
        open_document(path, Limits(cells=1000))


def test_doors_have_different_names_and_never_share_a_file(tmp_path: Path) -> None:
    assert len({door.kind for door in DOORS}) == len(DOORS)
    for data in (TEXT_PDF, xlsx(), xls(), ods(), b"a,b\nc,d\n", b"plain text\n", b"<html><p>x"):
        path = tmp_path / "file"
        path.write_bytes(data)
        open_document(path)


SAMPLES = {"pdf": TEXT_PDF, "xlsx": xlsx(), "xls": xls(), "ods": ods()}


@given(st.sampled_from(sorted(SAMPLES)), st.randoms(use_true_random=False))
@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_no_error_of_a_library_escapes(tmp_path: Path, kind: str, chance: random.Random) -> None:
    data = bytearray(SAMPLES[kind])
    for _ in range(chance.randrange(1, 20)):
        data[chance.randrange(len(data))] = chance.randrange(256)
    if chance.random() < 0.3:
        del data[chance.randrange(len(data)) :]
    path = tmp_path / "file"
    path.write_bytes(data)
    try:
        document = open_document(path)
    except WelltoldError:
        return
    assert document.pages or document.sheets


@given(st.binary(max_size=300))
@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_bytes_give_a_document_or_one_of_our_errors(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "file"
    path.write_bytes(data)
    try:
        document = open_document(path)
    except WelltoldError:
        return
    assert bool(document.pages) != bool(document.sheets)
