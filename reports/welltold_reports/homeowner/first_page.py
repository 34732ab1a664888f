"""Page 1: can we use the water, what to do today, whom to call, how sure it is."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from welltold.boil import observations
from welltold.checks.kinds import About, doubt_about
from welltold.interpretation import Interpretation, SampleView, Verdict
from welltold.messages import Message
from welltold.speech import sentence_start

from ..wording import analyte_name, counted, in_sentence, listed, texts, word
from .hazards import SIGNALS, Hazard, hazard_of
from .main_message import main_message
from .model import Count, FirstPage, Panel, StepLine
from .open_steps import open_steps
from .other_samples import has_the_pair, other_samples
from .past_concerns import advice_about_boiling, past_concerns
from .picture import Picture, distinct, picture_of, short_names
from .printed import Item, corrections_of
from .uses import left_out, use_rows
from .water import water_steps

COUNTED: tuple[Verdict, ...] = (
    "health_concern",
    "watch",
    "nuisance_only",
    "cant_tell",
    "no_concern_found",
)
MOST_STEPS = 5
WHICH_WATER = frozenset(
    f"verdict.do_{name}"
    for name in (
        "bottled", "bottled_bath_known", "germs_bottled", "germs_boil", "germs_boil_high",
        "no_formula", "baby_bottled", "call_health", "call_health_today", "never_boil_nitrate",
        "lead_bottled", "lead_cold", "copper_run", "copper_formula", "manganese_formula",
        "sulfate_formula", "fumes", "fuel_now", "do_not_boil", "germs_boil_3",
        "germs_babies_unknown", "germs_babies_near", "germs_others_boil", "germs_others_boil_3",
        "germs_never_boil", "flood_bottled",
    )
)  # fmt: skip
"""Steps that say which water to use, or to call the health department: step 1 and the list of
calls say it once for all findings together."""
ASKS_FOR_THE_PAIR = frozenset(
    f"verdict.do_{name}" for name in ("lead_two_samples", "copper_two_samples", "pipes_first_draw")
)
"""Steps that ask for the first water of the day and for water after the tap ran."""
SAID_ONCE = dict.fromkeys(ASKS_FOR_THE_PAIR, "two samples") | {
    f"verdict.do_{name}": "mend the well" for name in ("find_way_in", "flood_test")
}
"""Steps that ask for the same thing in other words."""
OF_A_NUMBER = frozenset(
    f"verdict.do_{name}"
    for name in (
        "sodium_doctor", "pregnant_doctor", "kidney_doctor", "fluoride_dentist", "arsenic_formula",
    )
)  # fmt: skip
"""Steps to show a number to somebody, which stands on another page."""
MOST_UNTESTED = 8
MOST_COUNTED = 5
"""Names beside a count."""
FOR_A_BABY = frozenset({"verdict.do_arsenic_formula"})
"""Steps that only a home with a baby takes."""
CONFIRM = "treatment.retest_confirm"
SECOND_SAMPLES = frozenset({"verdict.do_test_again", "verdict.do_new_germ_sample"})
"""Steps that ask for a second sample themselves."""
RADON_OFFICE = "radon"
"""Of the calls the one that is worth making before anything is sure: the air test is cheap."""
PUT_ASIDE = "verdict.put_aside"
"""A printed number over a health level that a person replaced: nobody may miss that."""
_FIRST_TESTS = ("total_coliform", "e_coli", "nitrate", "arsenic", "lead")

DOUBTED: dict[About, str] = {
    "disagree": "sure_disagree",
    "strange": "sure_strange",
    "waiting": "sure_waiting",
    "dates": "sure_dates",
    "place": "sure_place",
}
"""What page 1 says where a check of the sheet doubts something."""


def first_page(view: Interpretation, index: int, items: Sequence[Item]) -> FirstPage:
    """Return everything that stands on the decision page of the sample at ``index``."""
    sample = view.samples[index]
    seen = observations(view.site)
    picture = picture_of(
        items,
        advice_about_boiling(sample, view.site),
        fuel_smell="fuel_or_solvent_smell" in seen,
        at_home=view.site.get("home", {}).get("persons", ()),
        past=past_concerns(sample),
    )
    picture = replace(picture, others=other_samples(view.samples, index))
    drawn = ASKS_FOR_THE_PAIR if has_the_pair(view.samples, index) else frozenset()
    return FirstPage(
        main=main_message(picture),
        panel=_panel(picture),
        uses=use_rows(picture),
        steps=_steps(picture, WHICH_WATER | drawn, _at_once(sample, picture)),
        calls=_calls(picture, acid_known=any(map(_is_ph, items))),
        counts=_counts(items),
        untested=_untested(items),
        taken=word(f"taken_{sample.taken}") if sample.taken else "",
        sure=_sure(view, sample, items),
    )


def _panel(picture: Picture) -> Panel | None:
    """Return the one signal panel: the gravest word, and what each urgent hazard says."""
    urgent = picture.now + picture.open_now
    hazards = _hazards(picture.now)
    signals = [hazard.signal for hazard in hazards if hazard.signal]
    if not urgent and not picture.fuel_smell:
        return None
    if picture.fuel_smell:
        signals.append("warning")
    sentences = [_advice(name, picture) for hazard in hazards for name in hazard.advice]
    if picture.fuel_smell:
        sentences.append(word("advice_fumes"))
    for item in urgent:
        if not hazard_of(item.finding.analyte).advice or item in picture.open_now:
            sentences += texts(item.finding.why)
    signal = min(signals or ["notice"], key=SIGNALS.index)
    return Panel(word(f"signal_{signal}"), tuple(dict.fromkeys(sentences)))


def _hazards(items: Iterable[Item]) -> tuple[Hazard, ...]:
    return tuple(dict.fromkeys(hazard_of(item.finding.analyte) for item in items))


def _advice(name: str, picture: Picture) -> str:
    """Return a sentence of the panel; of coliform, what is known about E. coli."""
    if name == "coliform":
        tested = {item.finding.analyte for item in picture.quiet}
        name = "coliform" if "e_coli" in tested else "coliform_only"
    return word(f"advice_{name}")


def _at_once(sample: SampleView, picture: Picture) -> tuple[str, ...]:
    """Return what the table of retests asks for at once, and no step of a finding does, by name."""
    asked = {one.analyte for one in sample.retest if any(w.code == CONFIRM for w in one.why)}
    due = (
        item
        for item in picture.now
        if item.finding.analyte in asked
        and not any(one.code in SECOND_SAMPLES for one in item.finding.do)
    )
    return tuple(distinct(tuple(due)))


def _steps(
    picture: Picture, said: frozenset[str], at_once: Sequence[str] = ()
) -> tuple[StepLine, ...]:
    """Return at most five steps: the water to use first, then what the findings ask for.

    ``said``: codes of steps that stand elsewhere, or are done already; ``at_once``: what to test
    again today, by name.
    """
    today, later = word("step_today"), word("step_next")
    water = " ".join(water_steps(picture))
    steps = {water: StepLine(today, water)} if water else {}
    steps |= {text: StepLine(today, text) for text in _today(picture, at_once)}
    for items, when in (
        (picture.now, today),
        (picture.open_now, today),
        (picture.soon, later),
        (picture.for_somebody, later),
    ):
        for item in items:
            for message in item.finding.do:
                if message.code not in said:
                    key = SAID_ONCE.get(message.code, message.text)
                    steps.setdefault(key, StepLine(when, _told(message, item)))
    for item, message in picture.if_somebody:
        when = word("step_baby") if message.code in FOR_A_BABY else later
        steps.setdefault(message.text, StepLine(when, _told(message, item)))
    if picture.not_for_babies and not water:
        steps["baby"] = StepLine(word("step_baby"), word("step_no_formula"))
    missing = left_out(picture)
    if missing:
        steps["left out"] = StepLine(later, word("step_left_out", names=listed(missing)))
    for names, text in open_steps(picture, said):
        steps.setdefault(text, StepLine(later, word("step_open", names=names, text=text)))
    return tuple(steps.values())[:MOST_STEPS]


def _today(picture: Picture, at_once: Sequence[str]) -> Iterator[str]:
    """Yield what to have tested today: what an earlier sheet found, and what asks for a second."""
    if picture.past:
        yield word("step_past", names=listed([one.name for one in picture.past]))
    if at_once:
        yield word("step_at_once", names=listed(at_once))


def _told(message: Message, item: Item) -> str:
    """Return a step; where it speaks of "this number", with the number."""
    if message.code not in OF_A_NUMBER:
        return message.text
    return word("step_about", name=item.name, value=item.amount, text=message.text)


def _is_ph(item: Item) -> bool:
    return item.finding.analyte == "ph" and item.finding.verdict != "not_tested"


def _calls(picture: Picture, *, acid_known: bool) -> tuple[str, ...]:
    """Return whom to call; the plumber is told of the pH only where nobody measured it."""
    names = [name for hazard in _hazards(picture.urgent) for name in hazard.calls]
    calm = _hazards(picture.watch + picture.open_)
    names += [name for hazard in calm for name in hazard.calls if name == RADON_OFFICE]
    if not acid_known:
        names = ["plumber_ph" if name == "plumber" else name for name in names]
    if picture.fuel_smell:
        names = ["fumes", "health_today", *names]
    else:
        names = [name for name in names if name != "fumes"]
    if "health_today" in names:
        names = [name for name in names if name not in {"health_week", "health"}]
    if not any(name.startswith("health") for name in names):
        names.append("health")
    order = sorted(
        dict.fromkeys(names), key=lambda name: (name != "fumes", not name.startswith("health"))
    )
    return (*(word(f"call_{name}") for name in order), word("call_hotline"))


def _counts(items: Sequence[Item]) -> tuple[Count, ...]:
    """Return how many things got each verdict, and which; as many as the first sentences name."""
    counts = []
    for verdict in COUNTED:
        alike = [item for item in items if item.finding.verdict == verdict]
        quiet = sum(item.result is not None for item in alike)
        n = quiet if verdict == "no_concern_found" else len(distinct(alike))
        if n:
            text = counted(f"count_{verdict}", n)
            if verdict != "no_concern_found":
                names = short_names(alike, most=MOST_COUNTED)
                text = word("count_named", count=text, names=names)
            counts.append(Count(verdict, word(f"shape_{verdict}"), text))
    return tuple(counts)


def _untested(items: Sequence[Item]) -> str:
    """Return one line that names what was not tested, what matters most first."""
    slugs = [i.finding.analyte or "" for i in items if i.finding.verdict == "not_tested"]
    if not slugs:
        return word("untested_none")
    slugs.sort(key=lambda slug: _FIRST_TESTS.index(slug) if slug in _FIRST_TESTS else 99)
    names = [in_sentence(analyte_name(slug)) for slug in slugs]
    more = len(names) - MOST_UNTESTED
    if more > 1:
        return word(
            "untested_line",
            names=sentence_start(
                word("untested_more", names=", ".join(names[:MOST_UNTESTED]), n=more)
            ),
        )
    return word("untested_line", names=sentence_start(listed(names)))


def _sure(view: Interpretation, sample: SampleView, items: Sequence[Item]) -> tuple[str, ...]:
    """Return how sure all this is."""
    lines = [word("sure_one_day")]
    if view.reading.source.kind == "typed":
        lines.append(word("sure_typed"))
    doubted = [check for check in sample.checks or () if check.outcome == "doubt"]
    lines += [word(DOUBTED[about]) for about in dict.fromkeys(map(doubt_about, doubted))]
    lines += texts(one for item in items for one in item.finding.why if one.code == PUT_ASIDE)
    corrected = len(corrections_of(items))
    if corrected:
        lines.append(counted("sure_corrections", corrected))
    doubts = sum(bool(item.result and item.result.review) for item in items)
    if doubts:
        lines.append(counted("sure_doubts", doubts))
    if view.reading.unread:
        lines.append(counted("sure_unread", len(view.reading.unread)))
    return tuple(lines)
