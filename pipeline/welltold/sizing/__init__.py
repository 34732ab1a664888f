"""Sizes and settings: what the pump gives, what a stage must be, and how it is dialled in."""

from __future__ import annotations

from .existing import advise_existing
from .house import House, house
from .pump import PumpFlow, pump_flow
from .shelf import Item, Shelf
from .shelf_file import load_shelf, shelf_template
from .shelf_pick import not_on_shelf
from .size import size_stage
from .sized import Inlet, Sized
from .train import Whole, pressure_loss_psi, train_flow, waste_gal_day

__all__ = (
    "House",
    "Inlet",
    "Item",
    "PumpFlow",
    "Shelf",
    "Sized",
    "Whole",
    "advise_existing",
    "house",
    "load_shelf",
    "not_on_shelf",
    "pressure_loss_psi",
    "pump_flow",
    "shelf_template",
    "size_stage",
    "train_flow",
    "waste_gal_day",
)
