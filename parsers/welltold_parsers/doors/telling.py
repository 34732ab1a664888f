"""How numbers of pages and rows are told."""

from __future__ import annotations


def ranges(numbers: list[int]) -> str:
    """Return numbers in rising order as a reader writes them: "1, 3-5"."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 1 else f"{run[0]}" for run in runs)
