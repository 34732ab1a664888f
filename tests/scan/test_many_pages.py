"""Pages of a scan read by several processes: the same readings, bounded, told page by page."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

import welltold
from scan.test_scans import slip
from welltold.errors import PoorPictureError
from welltold.jsonform import to_jsonable
from welltold_parsers.geometry import Page
from welltold_parsers.scan import crew as crews
from welltold_parsers.scan import pages as scan_pages
from welltold_parsers.scan.crew import Crew, usual_size
from welltold_parsers.scan.shot import Shot
from welltold_parsers.working import at_hand, working

Gray = NDArray[np.uint8]
VALUES = ("1.27", "0.52", "0.08", "2.41")


@pytest.fixture(scope="module")
def alone(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """A fax, and its reading by one process; its pages are then remembered."""
    path = fax(tmp_path_factory.mktemp("alone"))
    return path, as_text(path, 1)


@pytest.fixture
def _forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let nothing be remembered of pages that were read before."""
    monkeypatch.setattr(scan_pages, "_RECENT", {})


def pictures() -> list[Image.Image]:
    """Four slips, with an empty page and a very dark one between them."""
    made = [Image.fromarray(slip(value)) for value in VALUES]
    made.insert(2, Image.new("L", made[0].size, 255))
    made.insert(4, Image.fromarray(np.full((700, 1200), 9, np.uint8)))
    return made


def fax(folder: Path) -> Path:
    first, *others = pictures()
    first.save(folder / "fax.tif", save_all=True, append_images=others)
    return folder / "fax.tif"


def scan(folder: Path) -> Path:
    first, *others = pictures()
    first.save(folder / "scan.pdf", save_all=True, append_images=others, resolution=150)
    return folder / "scan.pdf"


def as_text(path: Path, jobs: int) -> str:
    with working(jobs):
        return json.dumps(to_jsonable(welltold.read(path)))


@pytest.mark.usefixtures("_forgotten")
def test_several_processes_give_the_bytes_of_one(alone: tuple[Path, str]) -> None:
    path, text = alone
    told = json.loads(text)
    iron = [r["value"] for s in told["samples"] for r in s["results"] if r["analyte"] == "iron"]
    assert iron == [1.27, 0.52, 0.08, 2.41]
    assert [one["code"] for one in told["warnings"]].count("scan.page_left_out") == 2
    with working(2), at_hand() as work:
        assert json.dumps(to_jsonable(welltold.read(path))) == text
        assert work.crew._lost == 0


@pytest.mark.usefixtures("_forgotten")
def test_why_a_page_was_left_out_is_told_in_the_language_asked_for(tmp_path: Path) -> None:
    path = tmp_path / "poor.tif"
    poor = [Image.new("L", (1200, 700), shade) for shade in (255, 250, 240)]
    poor[0].save(path, save_all=True, append_images=poor[1:])
    with working(2), pytest.raises(PoorPictureError, match="página"):
        welltold.read(path, language="es")


def test_each_page_is_told_with_the_number_of_all(alone: tuple[Path, str]) -> None:
    told: list[tuple[int, int]] = []
    with working(2, lambda done, total: told.append((done, total))):
        welltold.read(alone[0])
    assert told == [(done, 6) for done in range(7)]


def test_a_page_that_was_read_before_is_not_read_again(
    alone: tuple[Path, str], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[int] = []
    monkeypatch.setattr(crews._Helper, "ask", lambda self, job: asked.append(job[1].number))
    path, text = alone
    assert as_text(path, 2) == text
    assert set(asked) <= {3, 5}  # only those that could not be read


@pytest.mark.usefixtures("_forgotten")
@pytest.mark.parametrize("how", ["dies", "never starts"])
def test_a_process_that_is_lost_costs_no_page(
    alone: tuple[Path, str], monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    if how == "dies":
        monkeypatch.setattr(crews, "_START", "import sys; sys.stdin.buffer.read(100); sys.exit(9)")
    else:
        monkeypatch.setattr(sys, "executable", str(alone[0].with_name("not-there")))
    path, text = alone
    assert as_text(path, 2) == text


def test_pages_of_a_pdf_that_are_pictures_are_shared_out_too(tmp_path: Path) -> None:
    path = scan(tmp_path)
    shared = as_text(path, 2)
    scan_pages._RECENT.clear()
    assert as_text(path, 1) == shared
    assert json.loads(shared)["warnings"][0]["args"]["pages"] == "1-2, 4, 6"


def test_no_process_is_left_behind() -> None:
    empty = (Shot(np.full((700, 1200), 255, np.uint8), None, of=8) for _ in range(8))
    with working(2), at_hand() as work:
        told = [answer for _, answer in scan_pages.read_shots(empty)]
        started = [one._process for one in work.crew._helpers]
        assert all(one is not None and one.poll() is None for one in started)
    assert {getattr(one, "code", "") for one in told} == {"scan.blank"}
    assert all(one is not None and one.poll() is not None for one in started)


def test_pictures_are_drawn_little_ahead_of_their_reading(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[int] = []
    monkeypatch.setattr(crews._Helper, "ask", lambda self, job: scan_page(job[1].number))

    def shots() -> Iterator[Shot]:
        for number in range(1, 101):
            drawn.append(number)
            yield Shot(np.zeros((4, 4), np.uint8), None, number=number, of=100)

    crew = Crew(2)
    try:
        ahead = [
            max(drawn) - shot.number for shot, _ in crew.in_order(shots(), known=lambda _: None)
        ]
    finally:
        crew.end()
    assert len(ahead) == 100
    assert max(ahead) <= 6


def scan_page(number: int) -> Page:
    return Page(number, 1, 1, ())


def test_a_program_needs_no_guard_round_its_main_part(tmp_path: Path) -> None:
    program = tmp_path / "program.py"
    program.write_text(
        "import sys\n"
        f"sys.path[:] = {sys.path!r}\n"
        "import numpy\n"
        "from welltold_parsers.scan.pages import read_shots\n"
        "from welltold_parsers.scan.shot import Shot\n"
        "from welltold_parsers.working import at_hand, working\n"
        "empty = [Shot(numpy.full((700, 1200), 255, 'uint8'), None, of=4)] * 4\n"
        "with working(2), at_hand() as work:\n"
        "    print([answer.code for _, answer in read_shots(empty)])\n"
        "    print(work.crew._lost)\n",
        "utf-8",
    )
    done = subprocess.run([sys.executable, program], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines() == [str(["scan.blank"] * 4), "0"]
    assert done.stderr == ""


def test_the_number_of_processes_fits_cores_and_memory(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(crews.os, "sched_getaffinity", lambda _: set(range(8)), raising=False)
    for free, size in ((None, 8), (20_000_000_000, 8), (4_600_000_000, 3), (200_000_000, 1)):
        monkeypatch.setattr(crews, "_free_memory", lambda free=free: free)
        assert usual_size() == size


def test_one_process_of_many_reads_its_pages_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(crews.os, "sched_getaffinity", lambda _: set(range(8)), raising=False)
    monkeypatch.setattr(crews, "_free_memory", lambda: None)
    monkeypatch.setattr(crews.multiprocessing, "parent_process", object)
    assert usual_size() == 1
