"""Waters and homes for the tests of the sizing room, made by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from welltold.site import Home, Site, Well
from welltold.site_keys import Timed
from welltold.treatment.water import Amount

D = Decimal
Told = str | tuple[str, str | None]


@dataclass(frozen=True)
class Stream:
    """What reaches a stage: a number, or a pair from low to high (None: no upper end)."""

    told: Mapping[str, Told] = field(default_factory=dict)
    temperature_c: D | None = None

    def amount(self, fact: str, unit: str, basis: str | None = None) -> Amount | None:
        value = self.told.get(fact)
        if value is None:
            return None
        low, high = value if isinstance(value, tuple) else (value, value)
        return Amount(D(low), None if high is None else D(high))


def water(**told: Told) -> Stream:
    return Stream(told)


def hard(gpg: str, **more: Told) -> Stream:
    """Water of a hardness in grains, without iron or manganese unless told."""
    mg = str(D(gpg) * D("17.118"))
    return Stream({"hardness": mg, "iron": "0", "manganese": "0", **more})


def home(
    people: int | None = 4, bathrooms: str | None = "2", pump: str | None = "12", **more: object
) -> Site:
    """A home with a pump timed at an open tap: so many gallons a minute in one minute."""
    well: dict[str, object] = {} if pump is None else {"bucket": Timed(D(pump), D(60))}
    inside: dict[str, object] = {}
    for key, value in more.items():
        (well if key in Well.__slots__ else inside)[key] = value
    return Site(
        home=Home(
            people=people,
            bathrooms=None if bathrooms is None else D(bathrooms),
            **inside,  # type: ignore[arg-type]  # each test names real fields
        ),
        well=Well(**well),  # type: ignore[arg-type]  # as above
    )
