"""How the numbers were made and what they can not say: in plain sentences for the client, in full for a class."""

from __future__ import annotations

from collections import Counter

from journey.colour.reading_limits import CUT_OFF_ADDS, PLACEMENT_REPEATABILITY
from journey.edition.desk import Desk
from journey.edition.model import ChecklistItem, MethodNote
from journey.edition.reading_trust import found_by_checks, stated_by_method

# CARE, the 13-item checklist for case reports (Gagnier et al. 2013, J Med Case Rep 7:223): where each stands on
# the class page. Anchors are the site's.
CARE_ITEMS: tuple[tuple[str, str, str | None], ...] = (
    ("1", "title", "top"),
    ("2", "keywords", "facts"),
    ("3", "abstract", "top"),
    ("4", "introduction", "facts"),
    ("5", "person", "facts"),
    ("6", "findings", "table-1"),
    ("7", "timeline", "week-by-week"),
    ("8", "assessment", "method"),
    ("9", "intervention", "bowls"),
    ("10", "outcome", "fade"),
    ("11", "discussion", "method"),
    ("12", "perspective", None),
    ("13", "consent", "withheld"),
)


def about_lines(desk: Desk) -> tuple[str, ...]:
    """Plain sentences for the client, from how her photos could be read."""
    words = desk.words
    by_method = Counter(photo.calibration.method for photo in desk.study.photos)
    against = "read" if by_method.total() > by_method["none"] else "read-plain"
    lines = [words.say(f"about.{against}", n=float(len(desk.study.readings)))]
    if by_method["none"]:
        lines.append(words.say("about.trend-only", n=float(by_method["none"])))
    lines.append(words.say("about.screen"))
    lines.append(words.say("about.forecast"))
    lines.append(words.say("about.no-medical"))
    return tuple(lines)


def method_notes(desk: Desk) -> tuple[MethodNote, ...]:
    """Each step with this journey's own numbers."""
    if desk.is_client:
        return ()
    words, study, assumed = desk.words, desk.study, desk.record.salon.assumptions
    by_method = Counter(photo.calibration.method for photo in study.photos)
    weak = sum(bool(reading.weak) for reading in study.readings)
    used = sum(len(fade.measured) for fade in study.fades)
    left_out = sum(len(fade.left_out) for fade in study.fades)
    calibrations = [photo.calibration for photo in study.photos]
    chart = [one.loo_mean for one in calibrations if one.method == "chart" and one.loo_mean is not None]
    inside = sum(not change.distinguishable for change in study.changes)
    notes: list[tuple[str, dict[str, object]]] = [
        ("reading", {"n": float(len(study.readings)), "weak": weak, "unread": len(study.unread)}),
        (
            "calibration",
            {
                "chart": by_method["chart"],
                "card": by_method["grey card"],
                "lamp": by_method["lamp profile"],
                "none": by_method["none"],
                "days": assumed.chart_holds_days,
            },
        ),
        ("uncertainty", {"each": "; ".join(stated_by_method(desk))}),
        (
            "checks",
            {
                "adds": words.number(assumed.weakness_adds, 1),
                "times": words.number(CUT_OFF_ADDS, 0),
                "found": words.listing(found_by_checks(desk)) or words.say("method.check.nothing"),
            },
        ),
        (
            "difference",
            {"inside": inside, "all": len(study.changes), "placing": PLACEMENT_REPEATABILITY},
        ),
        ("path", {}),
        ("fade", {"used": used, "left_out": left_out}),
        ("strand", {"rate": study.rate.mm_per_month, "source": desk.because(study.rate.source)}),
        ("fibres", {}),
        ("options", {"spread": words.percent(assumed.uptake_spread)}),
        ("limits", {}),
    ]
    told = [
        MethodNote(words.say(f"method.{name}.title"), words.say(f"method.{name}.text", values))
        for name, values in notes
    ]
    if chart:
        text = words.say("method.chart.text", loo=sum(chart) / len(chart), n=float(len(chart)))
        told.insert(2, MethodNote(words.say("method.chart.title"), text))
    return (*told, *_examples(desk))


def _examples(desk: Desk) -> list[MethodNote]:
    """One worked example per fitted colour on the leading place, to redo by hand."""
    words = desk.words
    examples = []
    for fade in desk.study.fades:
        if fade.place != desk.study.leading or not fade.measured:
            continue
        _, washes, share, _ = fade.measured[-1]
        rate = fade.posterior.rate()
        examples.append(
            MethodNote(
                words.say("method.example.title", colour=desk.gate.text("Service.name", fade.label)),
                words.say(
                    "method.example.text",
                    washes=washes,
                    share=words.percent(share.median),
                    low=words.percent(share.low),
                    high=words.percent(share.high),
                    rate=words.number(rate.median, 3),
                    rate_low=words.number(rate.low, 3),
                    rate_high=words.number(rate.high, 3),
                    base=desk.because(fade.substrate_from),
                    prior=desk.because(fade.prior_from),
                ),
            )
        )
    return examples


def checklist(desk: Desk) -> tuple[ChecklistItem, ...]:
    """Where each item of a published guideline for case reports stands; for a class only."""
    if desk.is_client:
        return ()
    words = desk.words
    return tuple(
        ChecklistItem(
            number=number,
            item=words.say(f"checklist.{name}.item"),
            where=words.say(f"checklist.{name}.where"),
            anchor=anchor,
        )
        for number, name, anchor in CARE_ITEMS
    )
