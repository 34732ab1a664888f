"""The two networks that read print, loaded once a process from files that are installed already.

The wheel of ``rapidocr`` carries the networks. They are opened here by their paths, and the package
itself is never imported: it would fetch what it misses from the network, and this program must not.
"""

from __future__ import annotations

import importlib
import importlib.util
import multiprocessing
import os
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float32]
_NEEDED = ("cv2", "onnxruntime", "rapidocr")
_TASKS = ("det", "rec")
THREADS = "WELLTOLD_SCAN_THREADS"
"""Threads of each network, where the surroundings name a number."""


@dataclass(frozen=True, slots=True)
class Network:
    """One network, ready to run."""

    session: Any
    entry: str
    characters: tuple[str, ...] = ()
    """What each output of the reading network stands for; the first is "no character"."""

    def run(self, batch: Floats) -> Floats:
        """Return what the network says to a batch of pictures."""
        told: Floats = self.session.run(None, {self.entry: batch})[0]
        return told


def available() -> bool:
    """Whether the parts of the extra ``welltold[scan]`` are installed."""
    here = all(importlib.util.find_spec(name) is not None for name in _NEEDED)
    return here and all(_files(task) for task in _TASKS)


@cache
def finder() -> Network:
    """Return the network that finds lines of print."""
    return _load("det")


@cache
def reader() -> Network:
    """Return the network that reads a line of print."""
    return _load("rec")


def _load(task: str) -> Network:
    onnxruntime: Any = importlib.import_module("onnxruntime")  # it has no type information
    options = onnxruntime.SessionOptions()
    options.log_severity_level = 4
    # Workers of a batch share the machine: one thread each does more than many that wait.
    alone = multiprocessing.parent_process() is None
    options.intra_op_num_threads = int(os.environ.get(THREADS) or (0 if alone else 1))
    options.enable_cpu_mem_arena = False
    session = onnxruntime.InferenceSession(
        str(_files(task)[-1]), sess_options=options, providers=["CPUExecutionProvider"]
    )
    told = session.get_modelmeta().custom_metadata_map.get("character", "")
    characters = ("", *told.splitlines(), " ") if told else ()
    return Network(session, session.get_inputs()[0].name, characters)


def _files(task: str) -> list[Path]:
    """Return the networks for a task in the installed package, the newest last."""
    found = importlib.util.find_spec("rapidocr")
    places = found.submodule_search_locations if found else None
    return sorted(Path(places[0], "models").glob(f"*_{task}_*.onnx")) if places else []
