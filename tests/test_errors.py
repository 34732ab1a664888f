"""Every error survives a worker process, has a code of its own, and names a next step."""

from __future__ import annotations

import inspect
import pickle
import re

import pytest

import welltold.errors as module
from welltold.errors import ExitCode, WelltoldError
from welltold.messages import LANGUAGES, Language, catalogue, speaking


def every_error() -> list[type[WelltoldError]]:
    found = [
        kind
        for _, kind in inspect.getmembers(module, inspect.isclass)
        if issubclass(kind, WelltoldError) and kind is not WelltoldError
    ]
    assert len(found) >= 15
    return found


def build(kind: type[WelltoldError]) -> WelltoldError:
    """One error with a telling value in every field."""
    parameters = list(inspect.signature(kind.__init__).parameters.values())[1:]
    fields = [7 if p.annotation == "int" else f"the {p.name}" for p in parameters]
    return kind(*fields)


@pytest.mark.parametrize("kind", every_error(), ids=lambda kind: kind.__name__)
def test_an_error_survives_a_worker(kind: type[WelltoldError]) -> None:
    error = build(kind)
    back = pickle.loads(pickle.dumps(error))  # noqa: S301 - our own bytes
    assert type(back) is kind
    assert back.args == error.args
    assert str(back) == str(error)
    with speaking("es"):
        spanish = build(kind)
    assert str(pickle.loads(pickle.dumps(spanish))) == str(spanish)  # noqa: S301
    assert spanish.hint != error.hint


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("kind", every_error(), ids=lambda kind: kind.__name__)
def test_an_error_says_what_to_do_in_one_line(
    kind: type[WelltoldError], language: Language
) -> None:
    with speaking(language):
        error = build(kind)
    assert "\n" not in f"{error} {error.hint}"
    assert error.hint.endswith(".")
    assert error.hint != WelltoldError().hint
    # Each field is shown, or the person could not tell which file or place is meant.
    assert all(str(field) in str(error) for field in error.args)


def test_every_sentence_belongs_to_an_error() -> None:
    named = {"welltold", *(kind.__name__.removesuffix("Error") for kind in every_error())}
    known = {re.sub(r"(?<!^)(?=[A-Z])", "_", name).lower() for name in named}
    hints = {f"{name}_hint" for name in known}
    assert set(catalogue("error")) == known | hints | {"too_large_picture_hint"}


def test_exit_codes_tell_situations_apart() -> None:
    codes = [kind.exit_code for kind in every_error()]
    assert len(codes) == len(set(codes))
    assert not {ExitCode.ok, ExitCode.usage, ExitCode.doubts, ExitCode.set_aside} & set(codes)
