"""How well many readings of one sheet agree with themselves, all at once.

Each relation of the sheet (charges, conductance, solids, hardness, alkalinity, nitrogen) is the
logarithm of a ratio that is 0 in a perfect sheet. The spread of the ratios follows from the spread
of every number in them, so a ratio that hangs on a number below its limit counts little.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from ..chemistry import anions, calculated_solids, cations, conductance
from ..chemistry.arrays import Array
from .quantities import IONS, Quantities, Quantity
from .rules import rule

Columns = Mapping[str, Array]
NUDGE, LEAST, SALTY = 0.01, 1e-9, 2000.0
PER_BICARBONATE, PER_CARBONATE = 0.8202, 1.6680
"""mg of alkalinity as CaCO3 for 1 mg; Hem 1985, USGS WSP 2254."""
CALCIUM, MAGNESIUM = 2.497, 4.118
"""mg of hardness as CaCO3 for 1 mg; Standard Methods 2340 B."""
SOLIDS_PER_CONDUCTANCE = 0.62
"""Middle of the usual 0.45 to 0.81, by ratio."""
CHARGED = (*IONS, "iron", "manganese", "hydrogen")


@dataclass(frozen=True, slots=True)
class Relation:
    """One ratio that ought to be 1, and its own spread beside that of its numbers."""

    log_ratio: Callable[[Columns], Array]
    spread: Callable[[Columns], Array]


def log_likelihoods(known: Quantities, changed: Sequence[Mapping[str, Quantity]]) -> Array:
    """Return the log likelihood of the sheet under each set of changes, up to one constant."""
    slugs = tuple(known.of)
    rows = [[change.get(slug, known.of[slug]) for slug in slugs] for change in changed]
    middles = np.array([[one.middle for one in row] for row in rows]).reshape(len(rows), -1)
    spreads = np.array([[one.spread for one in row] for row in rows]).reshape(len(rows), -1)
    relations = _relations(frozenset(slugs))
    if not relations:
        return np.zeros(len(rows))
    apart, own = _ratios(relations, slugs, middles)
    slopes = np.stack(
        [
            (_ratios(relations, slugs, _nudged(middles, column))[0] - apart) / NUDGE
            for column in range(len(slugs))
        ],
        axis=2,
    )
    shared = (slopes * (spreads**2)[:, None, :]) @ slopes.transpose(0, 2, 1)
    return _tailed(apart, shared + np.eye(len(relations)) * (own**2)[:, :, None])


def _nudged(middles: Array, column: int) -> Array:
    moved = middles.copy()
    moved[:, column] *= np.exp(NUDGE)
    return moved


def _ratios(
    relations: Sequence[Relation], slugs: Sequence[str], middles: Array
) -> tuple[Array, Array]:
    """Return the log ratios and their own spreads; a row a reading, a column a relation."""
    columns = {slug: middles[:, at] for at, slug in enumerate(slugs)}
    ratios = np.stack([one.log_ratio(columns) for one in relations], axis=1)
    return ratios, np.stack([one.spread(columns) for one in relations], axis=1)


def _tailed(apart: Array, covariance: Array) -> Array:
    """Return the logarithm of a multivariate t density, up to a constant."""
    tail, count = rule("tail"), apart.shape[1]
    solved = np.linalg.solve(covariance, apart[:, :, None])[:, :, 0]
    _, volume = np.linalg.slogdet(covariance)
    squares = (apart * solved).sum(axis=1)
    out: Array = -(tail + count) / 2 * np.log1p(squares / tail) - volume / 2
    return out


def _relations(slugs: frozenset[str]) -> tuple[Relation, ...]:
    """Return the relations that the numbers of a sheet allow."""
    base = "alkalinity" in slugs or "bicarbonate" in slugs
    pair = {"calcium", "magnesium"} <= slugs
    salts = base and {"sodium", "chloride", "sulfate"} <= slugs
    solids, meter = "total_dissolved_solids" in slugs, "specific_conductance" in slugs
    found = {
        _CHARGES: salts and (pair or "hardness" in slugs),
        _CONDUCTANCE: salts and pair and meter,
        _SOLIDS: salts and pair and solids,
        _METERED: solids and meter and not (salts and pair),
        _HARDNESS: pair and "hardness" in slugs,
        _CALCIUM: {"calcium", "calcium_hardness"} <= slugs,
        _ALKALINITY: {"alkalinity", "bicarbonate"} <= slugs,
        _NITROGEN: {"nitrate", "nitrate_nitrite"} <= slugs,
    }
    return tuple(relation for relation, possible in found.items() if possible)


def _log(above: Array, below: Array) -> Array:
    out: Array = np.log(np.maximum(above, LEAST)) - np.log(np.maximum(below, LEAST))
    return out


def _alkalinity(columns: Columns) -> Array:
    return PER_BICARBONATE * columns["bicarbonate"] + PER_CARBONATE * columns.get(
        "carbonate", np.zeros(1)
    )


def _ions(columns: Columns) -> dict[str, Array]:
    """Return the ions, with hardness in place of calcium and magnesium where these lack."""
    ions = {slug: columns[slug] for slug in CHARGED if slug in columns}
    if "alkalinity" not in ions and "bicarbonate" in columns:
        ions["alkalinity"] = _alkalinity(columns)
    if "nitrate" not in ions and "nitrate_nitrite" in columns:
        ions["nitrate"] = columns["nitrate_nitrite"]
    if not {"calcium", "magnesium"} <= set(ions) and "hardness" in columns:
        ions.pop("magnesium", None)
        ions["calcium"] = columns["hardness"] / CALCIUM
    return ions


def _hardness(columns: Columns) -> Array:
    return CALCIUM * columns["calcium"] + MAGNESIUM * columns["magnesium"]


def _nitrogen(columns: Columns) -> Array:
    return columns["nitrate"] + columns.get("nitrite", np.zeros(1))


def _charges_spread(columns: Columns) -> Array:
    ions = _ions(columns)
    least = np.minimum(np.asarray(cations(ions)), np.asarray(anions(ions)))
    tested = {"potassium", "nitrate"} <= set(ions)
    share = rule("balance_spread" if tested else "balance_untested")
    out: Array = np.hypot(share, rule("balance_apart") / np.maximum(least, LEAST))
    return out


def _conductance_spread(columns: Columns) -> Array:
    salty = columns["specific_conductance"] > SALTY
    return np.where(salty, rule("conductance_salty"), rule("conductance_spread"))


def _fixed(name: str) -> Callable[[Columns], Array]:
    return lambda columns: np.full(len(next(iter(columns.values()))), rule(name))


_CHARGES = Relation(
    lambda c: _log(np.asarray(cations(_ions(c))), np.asarray(anions(_ions(c)))), _charges_spread
)
_CONDUCTANCE = Relation(
    lambda c: _log(c["specific_conductance"], np.asarray(conductance(_ions(c)))),
    _conductance_spread,
)
_SOLIDS = Relation(
    lambda c: _log(
        c["total_dissolved_solids"],
        np.asarray(calculated_solids(_ions(c), c.get("silica", 0.0))),
    ),
    _fixed("solids_spread"),
)
_METERED = Relation(
    lambda c: _log(c["total_dissolved_solids"], SOLIDS_PER_CONDUCTANCE * c["specific_conductance"]),
    _fixed("ratio_spread"),
)
_HARDNESS = Relation(lambda c: _log(c["hardness"], _hardness(c)), _fixed("parts_spread"))
_CALCIUM = Relation(
    lambda c: _log(c["calcium_hardness"], CALCIUM * c["calcium"]), _fixed("parts_spread")
)
_ALKALINITY = Relation(lambda c: _log(c["alkalinity"], _alkalinity(c)), _fixed("parts_spread"))
_NITROGEN = Relation(lambda c: _log(c["nitrate_nitrite"], _nitrogen(c)), _fixed("parts_spread"))
