"""`make bench`: speed, memory, scans, how well sheets are read, slips found, wrong rows noticed.

Each figure is printed beside its goal. A slow or noisy machine changes milliseconds, not ratios.
``python tests/bench scans`` reads spoiled pictures of sheets; it takes half an hour, so that it is
done only when asked for.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator

import accuracy
import agreement
import limit_doubts
import memory
import mutations
import scan_speed
import slipped
import speed
from figures import Figure

PARTS: dict[str, Callable[[], Iterator[Figure]]] = {
    "speed": speed.figures,
    "memory": memory.figures,
    "scan-speed": scan_speed.figures,
    "scan-limits": limit_doubts.figures,
    "accuracy": accuracy.figures,
    "agreement": agreement.figures,
    "slips": slipped.figures,
    "mutations": mutations.figures,
}


def main(asked: list[str]) -> int:
    """Print the figures of the parts asked for; all of them when none is named."""
    if asked[:1] == ["scans"]:
        import scans

        return scans.main(asked[1:])
    missed = 0
    for name in asked or list(PARTS):
        print(f"\n{name}")
        for figure in PARTS[name]():
            print(f"  {figure}", flush=True)
            missed += not figure.reached
    print(f"\n{missed} figure(s) miss their goal." if missed else "\nAll goals are reached.")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
