"""Tables of scores: layouts, the whole, how sure the readings were, the worst documents."""

from __future__ import annotations

import math
import random

from .judge import Score, total

_HEAD = ("documents", "results", "precision", "recall", "F1", "silent", "doubted", "in unread",
         "lost", "phantoms", "review")  # fmt: skip
_COVERED = (0.5, 0.8, 0.9, 0.95, 0.97, 0.98, 0.99, 1.0)
_BINS = (0.0, 0.5, 0.8, 0.9, 0.95, 0.99, 0.999, 1.0)


def by_layout(scores: list[Score]) -> dict[str, list[Score]]:
    """Return the scores of each layout, by the layout's name."""
    layouts: dict[str, list[Score]] = {}
    for score in scores:
        layouts.setdefault(score.layout, []).append(score)
    return dict(sorted(layouts.items()))


def wilson(hits: int, trials: int) -> tuple[float, float]:
    """Return the 95 % bounds of a share (Wilson 1927, score interval)."""
    if not trials:
        return 0.0, 1.0
    z, share = 1.96, hits / trials
    middle = share + z * z / (2 * trials)
    spread = z * math.sqrt(share * (1 - share) / trials + z * z / (4 * trials * trials))
    whole = 1 + z * z / trials
    return max(0.0, (middle - spread) / whole), min(1.0, (middle + spread) / whole)


def bounds(scores: list[Score], what: str, draws: int = 400) -> tuple[float, float]:
    """Return the 95 % bounds of a count per 1,000 results, drawing whole layouts anew."""
    layouts = list(by_layout(scores).values())
    sums = [(sum(getattr(s, what) for s in some), sum(s.results for s in some)) for some in layouts]
    dice = random.Random(0)  # noqa: S311 - a draw for statistics, no secret
    rates = []
    for _ in range(draws):
        drawn = dice.choices(sums, k=len(sums))
        rates.append(1000 * sum(a for a, _ in drawn) / max(1, sum(b for _, b in drawn)))
    rates.sort()
    return rates[int(0.025 * draws)], rates[int(0.975 * draws) - 1]


def calibration(scores: list[Score]) -> list[str]:
    """Return, for ranges of confidence, how often such readings were right."""
    sure = total(scores).sure
    lines = ["confidence      given  mean    right  95 % bounds"]
    for low, high in zip(_BINS, (*_BINS[1:], math.inf), strict=True):
        some = [(at, right) for at, right in sure if low <= at < high]
        if not some:
            continue
        hits = sum(right for _, right in some)
        mean = sum(at for at, _ in some) / len(some)
        least, most = wilson(hits, len(some))
        name = f"{low:.3f}-{min(high, 1.0):.3f}"
        share = f"{mean:.4f}  {hits / len(some):.4f}  {least:.4f}-{most:.4f}"
        lines.append(f"{name:<14} {len(some):6}  {share}")
    return lines


def risk(scores: list[Score]) -> list[str]:
    """Return, for growing shares of the results, the surest first, how many were wrong."""
    sure = sorted(total(scores).sure, key=lambda one: -one[0])
    lines = ["used as they are    from confidence  wrong per 1,000  95 % bounds"]
    for share in _COVERED:
        count = int(share * len(sure))
        if not count:
            continue
        least = sure[count - 1][0]
        some = [right for at, right in sure if at >= least]
        wrong = len(some) - sum(some)
        low, high = (1000 * bound for bound in wilson(wrong, len(some)))
        rate = 1000 * wrong / len(some)
        covered = f"{len(some) / len(sure):.3f} ({len(some)})"
        lines.append(f"{covered:<18}  {least:15.4f}  {rate:15.2f}  {low:.2f}-{high:.2f}")
    return list(dict.fromkeys(lines))


_HEAD = ("documents", "results", "precision", "recall", "F1", "silent", "doubted", "in unread",
         "lost", "phantoms", "review")  # fmt: skip


def _row(score: Score, width: int) -> str:
    rates = f"{score.precision:9.3f} {score.recall:6.3f} {score.f1:6.3f}"
    counts = f"{score.silent:6} {score.doubted:7} {score.in_unread:9} {score.lost:6}"
    more = f"{score.phantoms:4}+{score.phantoms_doubted:<4} {score.review_share:6.3f}"
    start = f"{score.name[:width]:<{width}} {score.documents:9} {score.results:7}"
    return f"{start} {rates} {counts} {more}"


def _heads(width: int) -> str:
    sizes = (9, 7, 9, 6, 6, 6, 7, 9, 6, 9, 6)
    heads = (f"{word:>{size}}" for word, size in zip(_HEAD, sizes, strict=True))
    return " " * (width + 1) + " ".join(heads)


def _summary(scores: list[Score]) -> list[str]:
    whole, layouts = total(scores), by_layout(scores)
    per = 1000 / max(whole.results, 1)
    lines = []
    for what, word in (("silent", "silent errors"), ("lost", "lost silently"),
                       ("phantoms", "phantoms")):  # fmt: skip
        low, high = bounds(scores, what)
        rate = f"{getattr(whole, what) * per:.1f} ({low:.1f} to {high:.1f} by layout)"
        lines.append(f"{word + ', per 1,000 results:':<36}{rate}")
    bad = sum(1 for some in layouts.values() if total(some).silent)
    mean = sum(score.f1 for score in scores) / max(len(scores), 1)
    easy = sum(score.needs_no_look for score in scores)
    wrong = whole.doubted + whole.phantoms_doubted
    return [
        *lines,
        f"{'layouts with a silent error:':<36}{bad} of {len(layouts)}",
        f"{'mean F1 a document:':<36}{mean:.3f}",
        f"{'documents that need no look:':<36}{easy} of {len(scores)}",
        f"{'sent to review, and wrong:':<36}{wrong} of {whole.looked}",
        f"{'documents without a reading:':<36}{whole.failed}",
        f"{'silent errors by kind:':<36}{dict(whole.faults.most_common()) or 'none'}",
    ]


def _worst(scores: list[Score], count: int, width: int, *, notes: bool) -> list[str]:
    lines = ["", "worst documents:"]
    for score in sorted(scores, key=lambda one: one.badness, reverse=True)[:count]:
        lines += [f"{score.layout}: {score.name}", _row(score, width)]
        lines += [f"      {note}" for note in score.notes[: 200 if notes else 3]]
    return lines


def render(scores: list[Score], worst: int = 10, *, notes: bool = False) -> str:
    """Return the table of layouts, the total, how sure the readings were, the worst documents."""
    layouts = by_layout(scores)
    width = max(len(name) for name in (*layouts, "all"))
    lines = [_heads(width)]
    lines += [_row(total(some, layout), width) for layout, some in layouts.items()]
    lines += ["-" * len(lines[0]), _row(total(scores), width), "", *_summary(scores), ""]
    sure = [*calibration(scores), "", *risk(scores)]
    return "\n".join([*lines, *sure, *_worst(scores, worst, width, notes=notes)])
