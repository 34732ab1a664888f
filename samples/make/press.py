"""The presses: source text in, the bytes of a file out, the same bytes each time where possible."""

from __future__ import annotations

import io
import json
import re
import shutil
import subprocess
import tempfile
import zipfile
from pathlib import Path
from typing import Any

import pikepdf
import typst

_MODIFIED = re.compile(rb"(<(dcterms:(?:created|modified)|dc:date|meta:creation-date)[^>]*>)[^<]*")


def typst_pdf(source: str, data: Any = None) -> bytes:
    """Return the PDF of a typst source; it finds ``data`` as JSON in ``sys.inputs.data``."""
    whole = "#set document(date: none)\n" + source
    pdf = typst.compile(whole.encode(), sys_inputs={"data": json.dumps(data)})
    assert isinstance(pdf, bytes)  # noqa: S101 - the typed answer is a union
    return pdf


def chromium() -> str | None:
    """Return the browser that prints HTML here, if there is one."""
    return shutil.which("chromium") or shutil.which("chromium-browser")


def html_pdf(html: str) -> bytes:
    """Return the PDF that the browser prints of a page."""
    with tempfile.TemporaryDirectory() as folder:
        page = Path(folder, "page.html")
        page.write_text(html, encoding="utf-8")
        printed = Path(folder, "page.pdf")
        command = [str(chromium()), "--headless", "--no-sandbox", "--disable-gpu"]
        command += ["--no-pdf-header-footer", f"--print-to-pdf={printed}", page.as_uri()]
        subprocess.run(command, check=True, capture_output=True, timeout=120)
        return settled_pdf(printed.read_bytes())


def office() -> str | None:
    """Return the office suite's program, if there is one."""
    return shutil.which("soffice")


def office_pdfs(files: dict[str, bytes], export: str) -> dict[str, bytes]:
    """Return the PDFs of several documents (name with suffix -> bytes), printed in one go."""
    with tempfile.TemporaryDirectory() as folder:
        paths = []
        for name, content in files.items():
            paths.append(Path(folder, name))
            paths[-1].write_bytes(content)
        command = [str(office()), f"-env:UserInstallation=file://{folder}/profile", "--headless"]
        if export.startswith("writer"):
            command.append("--infilter=HTML (StarWriter)")
        command += ["--convert-to", f"pdf:{export}", "--outdir", folder, *map(str, paths)]
        subprocess.run(command, check=True, capture_output=True, timeout=300)
        return {path.name: settled_pdf(path.with_suffix(".pdf").read_bytes()) for path in paths}


def settled_pdf(pdf: bytes) -> bytes:
    """Return a PDF without its dates and with a number that depends on the content only."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        for key in ("/CreationDate", "/ModDate"):
            if key in document.docinfo:
                del document.docinfo[key]
        for key in ("/DocChecksum", "/ID"):
            if key in document.trailer:
                del document.trailer[key]
        if "/Metadata" in document.Root:
            del document.Root.Metadata
        out = io.BytesIO()
        document.save(out, deterministic_id=True)
    return out.getvalue()


def settled_zip(packed: bytes) -> bytes:
    """Return a zipped workbook with fixed dates."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(packed)) as old, zipfile.ZipFile(out, "w") as new:
        for entry in old.infolist():
            content = _MODIFIED.sub(rb"\g<1>2026-04-01T09:00:00Z", old.read(entry))
            info = zipfile.ZipInfo(entry.filename, (2026, 4, 1, 9, 0, 0))
            info.compress_type = entry.compress_type
            new.writestr(info, content)
    return out.getvalue()
