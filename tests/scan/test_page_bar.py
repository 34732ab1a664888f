"""The bar of pages: on a terminal only, and never between what goes to a file or a pipe."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

COMMAND = str(Path(sys.executable).parent / "welltold")


@pytest.fixture
def fax(tmp_path: Path) -> Path:
    """Four pages without print: what is to be told of them takes no time."""
    pages = [Image.new("L", (1200, 700), 255 - at) for at in range(4)]
    pages[0].save(tmp_path / "fax.tif", save_all=True, append_images=pages[1:])
    return tmp_path / "fax.tif"


def on_terminal(*arguments: str) -> tuple[bytes, str]:
    """Run the command with stderr on a terminal; return stdout and what the terminal got."""
    ours, theirs = os.openpty()
    got = bytearray()
    with subprocess.Popen(
        [COMMAND, *arguments],
        stdout=subprocess.PIPE,
        stderr=theirs,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "80"},
    ) as process:
        os.close(theirs)
        while True:
            try:
                part = os.read(ours, 65_536)
            except OSError:  # the other end is closed
                break
            if not part:
                break
            got += part
        assert process.stdout is not None
        out = process.stdout.read()
    os.close(ours)
    return out, got.decode("utf-8")


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_terminal_sees_how_many_pages_are_read(fax: Path, jobs: str) -> None:
    out, seen = on_terminal("read", str(fax), "--jobs", jobs)
    assert out == b""
    assert "Pages" in seen
    assert "0/4" in seen
    assert "4/4" in seen
    assert "0/100" not in seen
    assert "The page is blank." in seen


def test_without_a_terminal_nothing_but_messages_is_written(fax: Path) -> None:
    done = subprocess.run([COMMAND, "read", fax], capture_output=True, text=True, check=False)
    assert done.returncode == 34
    assert done.stdout == ""
    assert len(done.stderr.splitlines()) == 1
    assert "Pages" not in done.stderr


def test_files_without_pictures_show_no_bar_of_pages() -> None:
    sheet = Path(__file__).parents[2] / "samples/sheets/letter.pdf"
    out, seen = on_terminal("read", str(sheet), "--csv")
    assert out.startswith(b"kind,file,")
    assert "Pages" not in seen
