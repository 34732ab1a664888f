"""Runs the project's own tests one by one in this process, to see which change they notice."""

from __future__ import annotations

import importlib
import inspect
import itertools
import sys
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

TESTS = Path(__file__).parents[1]
MODULES = (
    "test_cases",
    "test_levels_cfr",
    "test_levels_every_row",
    "test_level_dates",
    "verdicts.test_matrix",
    "verdicts.test_basis",
    "verdicts.test_below_zero",
    "verdicts.test_bottles",
    "verdicts.test_doubts",
    "verdicts.test_doubts_draws",
    "verdicts.test_doubts_equipment",
    "verdicts.test_grounds",
    "verdicts.test_every_cause",
    "verdicts.test_every_rule",
    "verdicts.test_every_step",
    "verdicts.test_rules",
    "verdicts.test_sample",
    "verdicts.test_sums",
    "verdicts.test_tables_typed",
    "verdicts.test_whom_and_what_next",
    "checks.test_doubts",
    "checks.test_impossible_hardness",
    "checks.test_numbers",
    "checks.test_parts",
    "checks.test_salts",
    "checks.test_waiting",
)
"""Tests of what the tables decide; those that only compare tables with each other stay out."""

WHOLE = frozenset(
    {
        "test_levels_every_row",
        "verdicts.test_every_rule",
        "verdicts.test_tables_typed",
        "verdicts.test_whom_and_what_next",
    }
)
"""Of these every test is asked about every row: they look at whole tables."""
MOST_IN_ONE = 60
"""A test with more sets of parameters is asked only about the rows that these name."""


@dataclass(frozen=True, slots=True)
class Test:
    """One test with one set of its parameters."""

    name: str
    run: Callable[[], object]
    words: str
    """Everything in which the name of an analyte can stand."""
    always: bool = False
    """Whether it is asked about every row."""


def tests() -> tuple[Test, ...]:
    """Return every test that passes now, without the stages to consider, which are not judged."""
    sys.path[:0] = [str(TESTS), str(TESTS / "verdicts")]
    bench = _without_treatment()
    found = (one for name in MODULES for one in _of_module(importlib.import_module(name), bench))
    return tuple(one for one in found if passes(one))


def passes(test: Test) -> bool:
    """Whether a test passes."""
    try:
        test.run()
    except (Exception, pytest.fail.Exception):  # noqa: BLE001 - whatever a test stumbles over
        return False
    return True


def _without_treatment() -> Any:
    from welltold import treatment

    conftest = importlib.import_module("verdicts.conftest")
    parts = ("needs", "trains", "refused", "steps", "retest", "existing", "measure_first", "outlet")
    plan = type("Plan", (), dict.fromkeys(parts, ()))
    treatment.consider = lambda *_: plan  # type: ignore[assignment]  # a stand-in, as in conftest
    made = conftest
    return made.Bench(made.result, made.judge, made.view, made.interpret)


def _of_module(module: ModuleType, bench: Any) -> Iterator[Test]:
    for name, function in vars(module).items():
        if name.startswith("test_") and callable(function) and not hasattr(function, "hypothesis"):
            yield from _of_function(f"{module.__name__}.{name}", function, bench)


def _of_function(name: str, function: Callable[..., object], bench: Any) -> Iterator[Test]:
    asked = set(inspect.signature(function).parameters)
    more = {"bench": bench} if "bench" in asked else {}
    every = [one for one in _parameters(function) if not asked - one.keys() - {"bench"}]
    whole = every == [{}]  # it may speak of what stands beside it in its module
    source = inspect.getsource(sys.modules[function.__module__] if whole else function)
    source = source if len(every) <= MOST_IN_ONE else ""
    for given in every:
        words = f"{source} {given} {_case(name, given)}"
        always = name.rpartition(".")[0] in WHOLE and len(every) <= MOST_IN_ONE
        run = _bound(name, function, given | more)
        yield Test(f"{name}{list(given.values())}", run, words, always)


def _case(name: str, given: dict[str, Any]) -> str:
    """Return the published case that a test is about."""
    if not name.startswith("test_cases."):
        return ""
    return str(importlib.import_module("test_cases").ALL.get(given.get("name"), ""))


def _bound(
    name: str, function: Callable[..., object], given: dict[str, Any]
) -> Callable[[], object]:
    """Return the call; the published cases are asked again, not remembered."""
    if not name.startswith("test_cases."):
        return lambda: function(**given)

    def run() -> object:
        importlib.import_module("test_cases").view_of.cache_clear()
        return function(**given)

    return run


def _parameters(function: Callable[..., object]) -> Iterator[dict[str, Any]]:
    """Yield every combination that the marks of a test ask for."""
    marks = [m for m in getattr(function, "pytestmark", ()) if m.name == "parametrize"]
    choices = [[_named(m.args[0], row) for row in m.args[1]] for m in marks]
    for parts in itertools.product(*choices):
        yield {key: value for part in parts for key, value in part.items()}


def _named(names: str | Sequence[str], row: Any) -> dict[str, Any]:
    keys = [name.strip() for name in names.split(",")] if isinstance(names, str) else list(names)
    values = getattr(row, "values", None)
    if isinstance(values, tuple):  # pytest.param
        row = values if len(keys) > 1 else values[0]
    return dict(zip(keys, row if len(keys) > 1 else (row,), strict=True))
