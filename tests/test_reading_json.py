"""A reading saved as JSON: what comes back, what is refused, and that its bytes are read once."""

from __future__ import annotations

import json
import os
import threading
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from test_rows import READING

import welltold
from welltold.correcting import corrected
from welltold.errors import FileMissingError, ReadingFileError, TooLargeError
from welltold.jsonform import dump_json, to_jsonable
from welltold.reading import Correction, Normalized, Reading
from welltold_parsers.limits import Limits

SHEETS = Path(__file__).parents[1] / "samples" / "sheets"


def reading_of(value: Decimal, *, text: str | None = None) -> Reading:
    """One nitrate result as N, which needs no conversion."""
    result = replace(
        READING.results[0],
        analyte="nitrate",
        text=text or f"{value:f}",
        state="value",
        operator="=",
        value=value,
        unit="mg/L",
        basis="N",
        normalized=Normalized(value, "mg/L", "N"),
        decimals=max(-int(value.as_tuple().exponent), 0),
    )
    return replace(READING, samples=(replace(READING.samples[0], results=(result,)),))


def saved(folder: Path, reading: Reading, change: Callable[[Any], Any] | None = None) -> Path:
    found = json.loads(dump_json(reading))
    if change:
        change(found)
    file = folder / "a.json"
    file.write_text(json.dumps(found), "utf-8")
    return file


@given(st.decimals("-1e6", "1e9", places=20) | st.decimals("0", "1e-6", places=30))
@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_every_digit_that_was_printed_comes_back(tmp_path: Path, value: Decimal) -> None:
    reading = reading_of(value)
    back = welltold.read(saved(tmp_path, reading))
    assert back == reading
    assert str(back.results[0].value) == str(value)
    assert to_jsonable(back) == to_jsonable(reading)


def test_a_corrected_long_number_comes_back(tmp_path: Path) -> None:
    reading = reading_of(Decimal("4.2"))
    (result,) = reading.results
    long = "0.12345678901234567890"
    made = Correction(long, Decimal(long), "K. Larch", "2026-11-25")
    done = corrected(result, made)
    reading = replace(reading, samples=(replace(reading.samples[0], results=(done,)),))
    assert welltold.read(saved(tmp_path, reading)) == reading


def result_of(found: Any) -> Any:
    return found["samples"][0]["results"][0]


def in_result(**changes: Any) -> Callable[[Any], Any]:
    return lambda found: result_of(found).update(changes)


WRONG: dict[str, tuple[Callable[[Any], Any], str]] = {
    "a mistyped key": (
        in_result(corection={"text": "1"}),
        "samples.0.results.0.corection",
    ),
    "a key in the sample": (
        lambda found: found["samples"][0].update(taken_by="me"),
        "samples.0.taken_by",
    ),
    "a key at the top": (lambda found: found.update(note="x"), "note"),
    "a key in the correction": (
        in_result(correction={"text": "1", "by": "K", "at": "2026-11-25", "when": ""}),
        "samples.0.results.0.correction.when",
    ),
    "a number without a unit for it": (in_result(unit="NTU"), "samples.0.results.0.normalized"),
    "sure beyond all": (in_result(confidence=1.5), "samples.0.results.0.confidence"),
    "less than not sure": (in_result(confidence=-0.1), "samples.0.results.0.confidence"),
    "another normalized number": (
        in_result(normalized={"value": 4, "unit": "mg/L", "basis": "N"}),
        "samples.0.results.0.normalized",
    ),
    "another normalized unit": (
        in_result(normalized={"value": 40, "unit": "ug/L", "basis": "N"}),
        "samples.0.results.0.normalized",
    ),
    "a number that does not follow": (
        in_result(unit="mg/L as NO3"),
        "samples.0.results.0.normalized",
    ),
    "an unknown slug": (in_result(analyte="unobtainium"), "samples.0.results.0.analyte"),
    "a use of one's own": (in_result(use="look"), "samples.0.results.0.use"),
    "a number without end": (in_result(decimals=10**9), "samples.0.results.0.decimals"),
}


@pytest.mark.parametrize("name", WRONG)
def test_what_does_not_keep_the_contract_is_named(name: str, tmp_path: Path) -> None:
    change, place = WRONG[name]
    file = saved(tmp_path, reading_of(Decimal(40)), change)
    with pytest.raises(ReadingFileError) as caught:
        welltold.read(file)
    assert caught.value.args[1] == place


def test_a_basis_that_stands_only_in_the_unit_is_taken_from_it(tmp_path: Path) -> None:
    change = in_result(unit="mg/L as NO3", basis=None, normalized=None)
    (result,) = welltold.read(saved(tmp_path, reading_of(Decimal(40)), change)).results
    assert result.basis == "NO3"
    assert result.normalized is not None
    # 14.007 g of nitrogen in 62.004 g of nitrate
    assert float(result.normalized.value) == pytest.approx(40 * 14.007 / 62.004)


@pytest.mark.parametrize("path", sorted(SHEETS.glob("*.csv")), ids=lambda path: path.name)
def test_a_reading_of_a_sheet_keeps_its_own_contract(path: Path, tmp_path: Path) -> None:
    try:
        reading = welltold.read(path)
    except welltold.WelltoldError:
        return
    assert welltold.read(saved(tmp_path, reading)) == reading


@pytest.mark.parametrize(
    "inner",
    [
        '"samples": ' + "[" * 100_000 + "]" * 100_000,
        '"samples": ' + '{"a":' * 3000 + "1" + "}" * 3000,
        '"samples": ' + "9" * 5000,
        '"samples": NaN',
        '"samples": 1e999999999',
    ],
    ids=["lists", "objects", "digits", "no number", "exponent"],
)
def test_a_file_built_to_exhaust_is_refused(inner: str, tmp_path: Path) -> None:
    file = tmp_path / "a.json"
    file.write_text('{"schema": "welltold.reading/1", ' + inner + "}", "utf-8")
    with pytest.raises(ReadingFileError):
        welltold.read(file)


def test_the_limit_of_bytes_holds_for_json_too(tmp_path: Path) -> None:
    file = saved(tmp_path, READING)
    with pytest.raises(TooLargeError):
        welltold.read(file, limits=Limits(file_bytes=100))


# -- the bytes ------------------------------------------------------------------------------------


def through_a_pipe(data: bytes, folder: Path) -> Path:
    pipe = folder / "pipe"
    os.mkfifo(pipe)
    threading.Thread(target=pipe.write_bytes, args=(data,), daemon=True).start()
    return pipe


@pytest.mark.parametrize("name", ["hard-rusty.pdf", "metals-latin1.csv"])
def test_a_sheet_may_come_through_a_pipe(name: str, tmp_path: Path) -> None:
    reading = welltold.read(through_a_pipe((SHEETS / name).read_bytes(), tmp_path))
    assert reading.samples == welltold.read(SHEETS / name).samples


def test_a_saved_reading_may_come_through_a_pipe(tmp_path: Path) -> None:
    data = dump_json(reading_of(Decimal("4.20"))).encode()
    assert welltold.read(through_a_pipe(data, tmp_path)) == reading_of(Decimal("4.20"))


def test_a_stream_without_end_is_cut_off_at_the_limit(tmp_path: Path) -> None:
    with pytest.raises(TooLargeError):
        welltold.read("/dev/zero", limits=Limits(file_bytes=10_000))


def test_a_folder_and_a_missing_file_are_told(tmp_path: Path) -> None:
    for path in (tmp_path, tmp_path / "none.pdf"):
        with pytest.raises(FileMissingError):
            welltold.read(path)
