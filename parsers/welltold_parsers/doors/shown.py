"""What a spreadsheet program shows of a stored number, by its number format.

A laboratory reports what its sheet shows: 0.30, not 0.3; "<0.5", not 0.5 when the format itself
writes the sign. Formats are those of ECMA-376 part 1, section 18.8.30 and 18.8.31. What this
module does not know gives None, never a guess.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Context, Decimal, InvalidOperation
from functools import cache

_FIFTEEN = Context(prec=15, rounding=ROUND_HALF_UP)
"""Spreadsheet programs compute with 17 digits and show at most 15."""
_SIX = Context(prec=6, rounding=ROUND_HALF_UP)

BUILT_IN: dict[int, str] = {
    0: "General",
    1: "0",
    2: "0.00",
    3: "#,##0",
    4: "#,##0.00",
    5: '"$"#,##0_);("$"#,##0)',
    6: '"$"#,##0_);[Red]("$"#,##0)',
    7: '"$"#,##0.00_);("$"#,##0.00)',
    8: '"$"#,##0.00_);[Red]("$"#,##0.00)',
    9: "0%",
    10: "0.00%",
    11: "0.00E+00",
    12: "# ?/?",
    13: "# ??/??",
    14: "m/d/yyyy",
    15: "d-mmm-yy",
    16: "d-mmm",
    17: "mmm-yy",
    18: "h:mm AM/PM",
    19: "h:mm:ss AM/PM",
    20: "h:mm",
    21: "h:mm:ss",
    22: "m/d/yyyy h:mm",
    37: "#,##0_);(#,##0)",
    38: "#,##0_);[Red](#,##0)",
    39: "#,##0.00_);(#,##0.00)",
    40: "#,##0.00_);[Red](#,##0.00)",
    45: "mm:ss",
    46: "[h]:mm:ss",
    47: "mm:ss.0",
    48: "##0.0E+0",
    49: "@",
}
"""The formats that a file names by number only (ECMA-376 part 1, 18.8.30)."""

_TOKEN = re.compile(
    r"""(?P<quoted>"[^"]*"?) | \\(?P<escaped>.) | (?P<pad>_.) | (?P<fill>\*.)
      | \[(?P<bracket>[^\]]*)\] | (?P<expo>[Ee][+-]) | (?P<general>General)
      | (?P<ampm>AM/PM|A/P) | (?P<date>[yYmMdDhHsSgGbB]+) | (?P<digit>[0#?]) | (?P<comma>,)
      | (?P<point>\.) | (?P<percent>%) | (?P<at>@) | (?P<other>.)""",
    re.VERBOSE | re.DOTALL,
)
_COLOURS = re.compile(r"(black|blue|cyan|green|magenta|red|white|yellow|color\s*\d+)$", re.I)
_CONDITION = re.compile(r"(<=|>=|<>|<|>|=)\s*-?\d+\.?\d*$")
_PRINTED = {"literal", "digit", "point", "comma", "percent", "expo", "at", "general"}
_ELAPSED = re.compile(r"[hms]+$", re.IGNORECASE)
_CURRENCY = re.compile(r"\$([^-\]]*)(?:-[0-9A-Fa-f]+)?$")


@dataclass(frozen=True, slots=True)
class Section:
    """One part of a format, between semicolons."""

    parts: tuple[tuple[str, str], ...]
    """(kind, text): kinds ``literal``, ``digit``, ``point``, ``comma``, ``percent``, ``expo``,
    ``at`` and ``general``."""
    condition: tuple[str, Decimal] | None
    is_date: bool
    known: bool

    def has(self, kind: str) -> bool:
        """Whether a part of that kind occurs."""
        return any(part == kind for part, _ in self.parts)


@cache
def sections(code: str) -> tuple[Section, ...]:
    """Return the sections of a format code."""
    return tuple(_section(text) for text in _split(code))


def _split(code: str) -> list[str]:
    """Split at semicolons that are neither quoted nor escaped nor in brackets."""
    return re.findall(r'(?:"[^"]*"?|\\.|\[[^\]]*\]|[^;])+|(?<=;)(?=;|$)|^(?=;)', code) or [""]


def _section(text: str) -> Section:
    tokens = [
        _bracket(found["bracket"]) if found.lastgroup == "bracket" else _token(found)
        for found in _TOKEN.finditer(text)
    ]
    conditions = [value for kind, value in tokens if kind == "condition"]
    kinds = {kind for kind, _ in tokens}
    return Section(
        tuple((kind, value) for kind, value in tokens if kind in _PRINTED),
        _condition(conditions[0]) if conditions else None,
        is_date="date" in kinds,
        known="unknown" not in kinds,
    )


def _token(found: re.Match[str]) -> tuple[str, str]:
    """Return the part that a token stands for."""
    kind = found.lastgroup or "other"
    value = found[kind]
    if kind == "ampm":
        return "date", value
    if kind == "pad":
        return "literal", " "
    if kind == "other":
        # A slash between digit places asks for a fraction.
        return ("unknown" if value == "/" else "literal"), value
    if kind == "quoted":
        return "literal", value.strip('"')
    return ("literal" if kind == "escaped" else kind), value


def _bracket(value: str) -> tuple[str, str]:
    """Return the part that a bracket stands for: a condition, a currency, a span of time."""
    if _CONDITION.match(value):
        return "condition", value
    if currency := _CURRENCY.match(value):
        return "literal", currency[1]
    if _ELAPSED.match(value):
        return "date", value
    return ("colour" if _COLOURS.match(value) else "unknown"), value


def _condition(text: str) -> tuple[str, Decimal]:
    sign, limit = re.split(r"(?<=[<>=])\s*(?=[-\d.])", text, maxsplit=1)
    return sign, Decimal(limit)


def is_date_format(code: str) -> bool:
    """Whether a format shows its number as a date, a time or a span of time."""
    return any(section.is_date for section in sections(code))


def decimal_of(stored: str) -> Decimal | None:
    """Return the number that a file stores, None if it is none."""
    try:
        number = Decimal(stored)
    except InvalidOperation:
        return None
    # A sheet holds no number beyond 1E+308; without a bound, digits could unfold without end.
    return number if number.is_finite() and abs(number.adjusted()) < 330 else None


def general(number: Decimal) -> str:
    """Return what an unformatted cell shows when its column is wide enough.

    At most eleven characters beside the sign: 12 for 12.0, whole numbers up to eleven digits, else
    ten digits or nine decimals; what does not fit is written with a power of ten.
    """
    number = _FIFTEEN.plus(number)
    size = number.adjusted()
    if not number:
        return "0"
    decimals = 9 if size < 0 else max(9 - size, 0)
    fits = number.quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP) if size < 11 else number
    if size >= 11 or (size < -4 and fits != number):
        short = _SIX.plus(number)
        digits = f"{short.scaleb(-short.adjusted()).normalize():f}"
        return f"{digits}E{short.adjusted():+03d}"
    text = f"{fits:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def show(stored: str, code: str) -> str | None:
    """Return ``stored`` (a number as the file writes it) as shown under the format ``code``.

    None: the format, or the number, is not understood. Dates are not shown here.
    """
    if code == "General":
        return _general_of(stored)
    number = decimal_of(stored)
    if number is None:
        return None
    places = _plain_places(code)
    try:
        if places is not None:
            return f"{_FIFTEEN.plus(number).quantize(places, ROUND_HALF_UP):f}"
        chosen = _choose(sections(code), number)
        return None if chosen is None else _by_section(*chosen)
    except InvalidOperation:  # more digits than a cell could show
        return None


def _by_section(section: Section, number: Decimal) -> str | None:
    if not section.known or section.is_date:
        return None
    if section.has("general") or section.has("at"):
        return "".join(
            general(number) if kind in {"general", "at"} else text for kind, text in section.parts
        ).strip()
    if not section.has("digit"):
        return "".join(text for _, text in section.parts).strip()
    return _filled(section, number)


def _general_of(stored: str) -> str | None:
    """Return `general` of a stored number; long fractions take a quicker way to the same text."""
    if len(stored) > 12:
        try:
            number = float(stored)
        except ValueError:
            return None
        if 1 <= abs(number) < 1e9:
            return f"{number:.10g}"
        if 1e-3 < abs(number) < 0.999:
            return f"{number:.9f}".rstrip("0")
    exact = decimal_of(stored)
    return None if exact is None else general(exact)


@cache
def _plain_places(code: str) -> Decimal | None:
    """Return the last decimal of the most usual formats, 0 and 0.00, or None for any other."""
    return Decimal(code.replace("0", "1")) if re.fullmatch(r"0(?:\.0{1,10})?", code) else None


def _choose(every: tuple[Section, ...], number: Decimal) -> tuple[Section, Decimal] | None:
    """Return the section for a number, and the number without its sign where that is shown."""
    if any(section.condition for section in every):
        for section in every:
            if section.condition is None or _holds(section.condition, number):
                return section, number
        return None
    count = len(every)
    if count == 1:
        return every[0], number
    if number < 0:
        return every[1], -number
    if number == 0 and count > 2:
        return every[2], number
    return every[0], number


def _holds(condition: tuple[str, Decimal], number: Decimal) -> bool:
    sign, limit = condition
    return {
        "<": number < limit,
        ">": number > limit,
        "<=": number <= limit,
        ">=": number >= limit,
        "=": number == limit,
        "<>": number != limit,
    }[sign]


def _filled(section: Section, number: Decimal) -> str | None:
    """Fill the digit places of a section."""
    kinds = [kind for kind, _ in section.parts]
    if kinds.count("expo") > 1 or kinds.count("point") > 1:
        return None
    first = kinds.index("digit")
    if "point" in kinds:
        first = min(first, kinds.index("point"))
    last = max(place for place, kind in enumerate(kinds) if kind in {"digit", "point", "comma"})
    core = section.parts[first : last + 1]
    if any(kind == "literal" for kind, _ in core):
        return None
    if "expo" in kinds and not first < kinds.index("expo") < last:
        return None
    number = _FIFTEEN.plus(number).scaleb(2 * kinds.count("percent"))
    digits = _scientific(core, number) if "expo" in kinds else _fixed(core, number)
    sign = "-" if digits.startswith("-") else ""
    texts = ["%" if kind == "percent" else text for kind, text in section.parts]
    shown = "".join(texts[:first]) + digits.removeprefix("-") + "".join(texts[last + 1 :])
    return sign + shown.strip()


def _fixed(core: tuple[tuple[str, str], ...], number: Decimal) -> str:
    """Return a number with the decimals, zeros and thousands of the digit places ``core``."""
    text = "".join(part for _, part in core)
    whole, _, after = text.partition(".")
    scale = len(whole) - len(whole.rstrip(","))
    whole = whole.rstrip(",")
    trailing = len(after) - len(after.rstrip(","))
    after = after.rstrip(",")
    number = number.scaleb(-3 * (scale + trailing))
    rounded = number.quantize(Decimal(1).scaleb(-len(after)), ROUND_HALF_UP)
    sign = "-" if rounded < 0 else ""
    digits, _, decimals = f"{abs(rounded):f}".partition(".")
    decimals = _without_optional(decimals, after)
    wanted = sum(place in "0?" for place in whole)
    digits = digits.lstrip("0").rjust(wanted, "0")
    if "," in whole:
        digits = f"{int(digits):,}".rjust(wanted, "0") if digits else ""
    point = "." if "." in text else ""
    return f"{sign}{digits}{point}{decimals}"


def _without_optional(decimals: str, places: str) -> str:
    """Drop zeros at the end for which the format says "#"."""
    keep = len(decimals)
    while keep and places[keep - 1] in "#?" and decimals[keep - 1] == "0":
        keep -= 1
    return decimals[:keep]


def _scientific(core: tuple[tuple[str, str], ...], number: Decimal) -> str:
    """Return a number with a power of ten: 1.20E-03."""
    text = "".join(part for _, part in core)
    mantissa, sign, power = re.split(r"[Ee]([+-])", text)
    step = max(sum(place in "0#?" for place in mantissa.partition(".")[0]), 1)
    decimals = len(mantissa.partition(".")[2])
    exponent = 0
    if number:
        exponent = number.adjusted() // step * step
        shifted = number.scaleb(-exponent).quantize(Decimal(1).scaleb(-decimals), ROUND_HALF_UP)
        if abs(shifted) >= 10**step:
            exponent += step
        number = number.scaleb(-exponent)
    core_parts = tuple(("digit", place) for place in mantissa)
    shown = "-" if exponent < 0 else ("+" if sign == "+" else "")
    return f"{_fixed(core_parts, number)}E{shown}{abs(exponent):0{len(power)}d}"
