"""The house keeps its order: who may import whom, and what loads when."""

from __future__ import annotations

import ast
import subprocess
import sys
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
ROOMS = {
    "welltold": ROOT / "pipeline" / "welltold",
    "welltold_parsers": ROOT / "parsers" / "welltold_parsers",
    "welltold_reports": ROOT / "reports" / "welltold_reports",
}
OUTER_CORE = {"command", "batch", "__init__.py", "face.py"}
"""The command, the batch and the public face: the only core that may know the other rooms."""


def modules(room: str) -> list[Path]:
    return sorted(ROOMS[room].rglob("*.py"))


def imported(path: Path) -> set[str]:
    """Top-level packages that a module imports anywhere, lazily or not."""
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name.partition(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and not node.level:
            names.add((node.module or "").partition(".")[0])
    return names


def loaded_with(path: Path) -> set[Path]:
    """Modules of the same room that load with this one: relative imports outside functions."""
    found: set[Path] = set()
    for node in ast.parse(path.read_text("utf-8")).body:
        if not isinstance(node, ast.ImportFrom) or not node.level:
            continue
        folder = path.parents[node.level - 1].joinpath(*(node.module or "").split("."))
        names = [folder.with_suffix(".py"), *(folder / f"{alias.name}.py" for alias in node.names)]
        found |= {one for one in names if one.exists()}
    return found


def is_outer(path: Path) -> bool:
    return path.relative_to(ROOMS["welltold"]).parts[0] in OUTER_CORE


def test_the_map_for_contributors_names_every_room() -> None:
    told = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    packages = {path.parent.relative_to(ROOT) for room in ROOMS for path in modules(room)}
    rooms = {one for one in packages if len(one.parts) == 3 and one.parts[0] != "reports"}
    assert len(rooms) > 15
    assert [str(one) for one in sorted(rooms) if f"`{one.as_posix()}/`" not in told] == []


def test_the_rooms_hold_modules() -> None:
    assert all(len(modules(room)) > 3 for room in ROOMS)


@pytest.mark.parametrize("path", modules("welltold_parsers"), ids=lambda path: path.name)
def test_parsers_never_import_reports(path: Path) -> None:
    assert "welltold_reports" not in imported(path)


@pytest.mark.parametrize("path", modules("welltold_reports"), ids=lambda path: path.name)
def test_reports_never_import_parsers(path: Path) -> None:
    assert "welltold_parsers" not in imported(path)


@pytest.mark.parametrize(
    "path", [p for p in modules("welltold") if not is_outer(p)], ids=lambda path: path.name
)
def test_the_core_imports_neither_parsers_nor_reports(path: Path) -> None:
    assert not imported(path) & {"welltold_parsers", "welltold_reports"}


@pytest.mark.parametrize("room", ROOMS)
def test_no_modules_import_each_other_in_a_circle(room: str) -> None:
    order = TopologicalSorter({path: loaded_with(path) for path in modules(room)})
    try:
        order.prepare()
    except CycleError as error:
        pytest.fail(" -> ".join(path.stem for path in error.args[1]))


@pytest.mark.parametrize("folder", ["pipeline", "parsers", "reports"])
def test_no_loose_module_beside_a_package(folder: str) -> None:
    assert not list((ROOT / folder).glob("*.py"))


@pytest.mark.parametrize("room", ROOMS)
def test_modules_stay_short(room: str) -> None:
    lengths = {path.name: len(path.read_text("utf-8").splitlines()) for path in modules(room)}
    assert {name: n for name, n in lengths.items() if n > 400} == {}
    assert sorted(lengths.values())[len(lengths) // 2] < 150


def loaded_by(code: str) -> set[str]:
    """Top-level modules loaded in a fresh interpreter after running ``code``."""
    script = f"{code}\nimport sys\nprint(' '.join({{m.partition('.')[0] for m in sys.modules}}))"
    paths = ":".join(str(path.parent) for path in ROOMS.values())
    done = subprocess.run(
        [sys.executable, "-c", script],
        capture_output=True,
        text=True,
        check=True,
        env={"PYTHONPATH": paths},
    )
    return set(done.stdout.split())


def test_importing_welltold_loads_nothing_heavy() -> None:
    heavy = {"numpy", "pandas", "pint", "pydantic", "typer", "rich", "pypdfium2", "openpyxl"}
    assert not loaded_by("import welltold") & heavy


def test_the_reading_path_loads_no_heavy_library() -> None:
    """What `welltold read sheet.pdf --json` may not import; see the speed figures in the README."""
    sheet = next((ROOT / "samples" / "sheets").glob("*.pdf"))
    code = (
        "import sys, contextlib, io\n"
        f"sys.argv = ['welltold', 'read', {str(sheet)!r}, '--json']\n"
        "from welltold.__main__ import main\n"
        "with contextlib.suppress(SystemExit), contextlib.redirect_stdout(io.StringIO()):\n"
        "    main()\n"
    )
    heavy = {"pandas", "pint", "openpyxl", "pdfplumber", "jinja2", "typst", "xlsxwriter", "lxml"}
    loaded = loaded_by(code)
    assert "pypdfium2" in loaded
    assert not loaded & heavy
