"""Makes sheets with their truth: ``python -m samples.proving --seed 1 --count 200 --out DIR``.

Sheet number N of seed S is always the same; its layout is the next of the list, so that a run
of some hundred sheets has every layout several times. Layouts whose press is not installed here
(the browser, the office suite) are left out, and told.
"""

from __future__ import annotations

import argparse
import json
import sys
from pathlib import Path
from typing import Any

from .blocks import Leaf
from .draw import Bottle
from .layouts import Layout, layouts, make_sheet


def _sample(bottle: Bottle) -> dict[str, Any]:
    day = bottle.collected.strftime("%Y-%m-%d")
    told = {"id": bottle.id, "point": bottle.point, "collected": day}
    shown = {key: None if key in bottle.hidden else value for key, value in told.items()}
    return shown | {"results": [item.truth() for item in bottle.items]}


def truth_of(name: str, layout: Layout, leaf: Leaf) -> dict[str, Any]:
    """Return what is true of a sheet, in the shape of a truth file."""
    samples = [_sample(bottle) for bottle in leaf.bottles]
    return {"name": name, "layout": layout.name, "file": name + layout.suffix, "samples": samples}


def main(arguments: list[str]) -> int:
    """Write the sheets that were asked for."""
    parser = argparse.ArgumentParser(prog="python -m samples.proving", description=__doc__)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--out", type=Path)
    parser.add_argument("--only", default="", help="layouts whose name contains this")
    parser.add_argument("--list", action="store_true", help="name the layouts and stop")
    asked = parser.parse_args(arguments)
    some = [layout for layout in layouts() if asked.only in layout.name]
    absent = len(layouts(missing=True)) - len(layouts())
    if absent:
        print(f"left out: {absent} layouts whose press is not installed", file=sys.stderr)
    if asked.list or not asked.out:
        print("\n".join(layout.name for layout in some))
        return 0
    asked.out.mkdir(parents=True, exist_ok=True)
    for number in range(asked.count):
        layout = some[number % len(some)]
        name = f"{asked.seed}-{number:04d}-{layout.name}"
        made, leaf = make_sheet(layout, f"{asked.seed} {number} {layout.name}")
        (asked.out / (name + layout.suffix)).write_bytes(made)
        truth = json.dumps(truth_of(name, layout, leaf), indent=1, ensure_ascii=False)
        (asked.out / f"{name}.truth.json").write_text(truth + "\n", encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
