"""When two spellings of a unit, a basis, a name or a number say the same."""

from __future__ import annotations

import re
from typing import Any

_SAME = {
    "mgl": "mg/l",
    "ugl": "ug/l",
    "mcgl": "ug/l",
    "ngl": "ng/l",
    "ppm": "mg/l",
    "partspermillion": "mg/l",
    "milligramsperliter": "mg/l",
    "ppb": "ug/l",
    "mcg/l": "ug/l",
    "partsperbillion": "ug/l",
    "microgramsperliter": "ug/l",
    "ppt": "ng/l",
    "partspertrillion": "ng/l",
    "umhos/cm": "us/cm",
    "umho/cm": "us/cm",
    "micromhos/cm": "us/cm",
    "mmhos/cm": "ms/cm",
    "mmho/cm": "ms/cm",
    "aphapt-co": "cu",
    "ucv/tcu": "cu",
    "utn/ntu": "ntu",
    "grains/gal": "gpg",
    "gr/gal": "gpg",
    "grainspergallon": "gpg",
    "grains": "gpg",
    "grainspergal": "gpg",
    "°f": "degf",
    "deg.f": "degf",
    "col/100ml": "cfu/100ml",
    "colonies/100ml": "cfu/100ml",
    "colonies/ml": "cfu/ml",
    "nmp/100ml": "mpn/100ml",
    "/100ml": "count/100ml",
    "100ml": "count/100ml",
    "#/100ml": "count/100ml",
    "no./100ml": "count/100ml",
    "no/100ml": "count/100ml",
    "number/100ml": "count/100ml",
    "no./ml": "count/ml",
    "no/ml": "count/ml",
    "number/ml": "count/ml",
    "#/ml": "count/ml",
    "colorunits": "cu",
    "pcu": "cu",
    "pt-co": "cu",
    "acu": "cu",
    "tcu": "cu",
    "hazen": "cu",
    "mg/lpt/co": "cu",
    "mg/lpt/coscale": "cu",
    "°c": "degc",
    "degreesc": "degc",
    "grdc": "degc",
    "grdcelsius": "degc",
    "1/m": "m-1",
    "ftu": "fnu",
    "c": "degc",
}
_NO_UNIT = ("", "none", "-", "unitless", "ph", "phunits", "su", "units", "unit", "stdunits",
            "standardunits", "std", "s.u", "present/absent", "p/a", "presence/absence",
            "nounit", "nounits", "std.units", "ohneeinheit")  # fmt: skip
_BASIS = re.compile(
    r"(?:\s*\(?\bas\s+(?:caco3|n|no3|no2|nh3|nh4|p|po4|s|so4|sio2|hco3)\b"
    r"|(?:(?<=/l)|(?<=ppm))[ (]+caco3\b)\)?$",
    re.I,
)

_LOWERED = str.maketrans("₀₁₂₃₄₅₆₇₈₉", "0123456789")

_COUNTED_AS = re.compile(
    r"^([mu])g(?:"
    r"(?:caco3|n-no[23]|no[23]|nh[34]|n|po4|p|so4|sio2|si|hco3|o2|c|f|fe|mn)/l"
    r"|/l(?:no[23]|nh[34]|n|po4|p|sio2|o2|c))$"
)
"""A basis between the mass and the litre, or behind both."""

_ANALYTES = {
    "tds": "total_dissolved_solids",
    "conductivity": "specific_conductance",
    "toc": "total_organic_carbon",
    "ecoli": "e_coli",
    "genx": "hfpo_da",
    "total_hardness": "hardness",
    "colour": "color",
}


def unit(spelling: str | None) -> str:
    """Return one spelling for all that mean the same; "" for none."""
    plain = (spelling or "").strip().translate(_LOWERED)
    text = _BASIS.sub("", plain).lower()
    text = re.sub(r"\s*(?:\s+at\s+|@\s*)25.*$", "", text.replace("µ", "u").replace("μ", "u"))
    text = re.sub(r"\bper\b(?= *(?:100|ml\b))", "/", text).replace("most probable number", "mpn")
    text = re.sub(r"[\s,]+", "", text).rstrip(".")
    if text in _NO_UNIT:
        return ""
    text = _COUNTED_AS.sub(r"\1g/l", text)
    return _SAME.get(text, text)


def basis(spelling: str | None) -> str:
    """Return a basis without case and without "as"."""
    return re.sub(r"^as\s+", "", (spelling or "").strip().lower())


def analyte(slug: str | None) -> str | None:
    """Return one slug for those that mean the same."""
    return _ANALYTES.get(slug, slug) if slug else None


def name(text: Any) -> str:
    """Return letters and digits only, in lower case."""
    return re.sub(r"[\W_]+", "", str(text or "").lower())


def number(one: float | None, other: float | None) -> bool:
    """Say whether two numbers are the same but for the last bits."""
    if one is None or other is None:
        return one is other
    return abs(one - other) <= 1e-9 * max(abs(one), abs(other))
