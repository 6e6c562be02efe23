"""Small editions built by hand: a coral rose that becomes violet in fourteen weeks. Invented data."""

import math
from dataclasses import replace

import numpy as np
from PIL import Image

from journey.colour.spaces import FloatArray, hex_to_lab, lab_to_hex
from journey.edition.model import (
    Chip,
    Edition,
    FadeFigure,
    FadePoint,
    FadeSegment,
    FadeSeries,
    FibreColour,
    FibreFigure,
    GradeFigure,
    GradePoint,
    HueFigure,
    HuePoint,
    HueStretch,
    LadderFigure,
    LadderStep,
    Mark,
    Picture,
    Refresh,
    Table,
    When,
)
from journey.record.model import Audience

TABLE = Table(key="t", title="", columns=(), rows=())
BASE = "#e6c896"
CORAL = "#d9605c"
ROSE = "#d95d70"
VIOLET = "#6b3f9b"
LAST_WEEK = 21.0
TODAY_WEEK = 14.0
DATES = {0.0: "7 March", 4.0: "4 April", 10.0: "16 May", 14.0: "13 June", 15.7: "25 June", 18.2: "12 July"}


def when(week: float, audience: Audience = Audience.CLIENT) -> When:
    if audience is Audience.CLASS:
        return When(f"week {week:g}", week)
    return When(DATES.get(week, f"day {week * 7:.0f}"), week)


def mixed_lab(fresh: str, base: str, share: float) -> FloatArray:
    """A colour that has faded to `share`; bent a little, as hair does not go straight either."""
    f, b = hex_to_lab(fresh), hex_to_lab(base)
    lab: FloatArray = b + (f - b) * np.array([share**1.2, share**0.8, share])
    return lab


def mixed(fresh: str, base: str, share: float) -> str:
    return lab_to_hex(mixed_lab(fresh, base, share)).text


def fade_point(week: float, since: float, rate: float, fresh: str, spread: float = 0.0) -> FadePoint:
    share = math.exp(-rate * (week - since))
    return FadePoint(
        week=week,
        share=share,
        low=max(share - spread, 0.0),
        high=min(share + spread, 1.0),
        hex=mixed(fresh, BASE, share),
    )


def segment(
    label: str, start: float, end: float, rate: float, fresh: str, measured: tuple[float, ...]
) -> FadeSegment:
    steps = round((end - start) * 3)
    weeks = [start + (end - start) * n / max(steps, 1) for n in range(steps + 1)]
    return FadeSegment(
        label=label,
        points=tuple(fade_point(w, start, rate, fresh, max(w - TODAY_WEEK, 0) * 0.02) for w in weeks),
        measured=tuple(fade_point(w, start, rate * 0.96, fresh, 0.05) for w in measured),
    )


def place(name: str, rate: float, today_text: str = "70 %") -> FadeSeries:
    return FadeSeries(
        place=name,
        segments=(
            segment("Coral rose", 0, 4, rate * 1.3, CORAL, (2.0,)),
            segment("Rose gloss", 4, 10, rate * 1.2, ROSE, (6.0, 7.0, 9.0)),
            segment("Violet", 10, LAST_WEEK, rate, VIOLET, (12.0, 14.0)),
        ),
        today_text=today_text,
    )


def fade_figure(*series: FadeSeries, audience: Audience = Audience.CLIENT) -> FadeFigure:
    return FadeFigure(
        title="How the colour faded",
        alt='Three colours, each fading to about "two thirds" & then <renewed>.',
        series=series or (place("Mid-lengths", 0.09),),
        marks=(
            Mark(when=when(0.0, audience), label="Coral rose"),
            Mark(when=when(2.0, audience), label="photos from home", is_service=False),
            Mark(when=when(4.0, audience), label="Rose gloss"),
            Mark(when=when(10.0, audience), label="Violet"),
        ),
        today=when(TODAY_WEEK, audience),
        last_week=LAST_WEEK,
        refresh=(15.7, 18.2),
        table=TABLE,
    )


def hue_point(week: float, fresh: str, share: float) -> HuePoint:
    _, a, b = mixed_lab(fresh, BASE, share)
    return HuePoint(week=week, a=float(a), b=float(b), hex=mixed(fresh, BASE, share))


def stretch(label: str, start: float, end: float, rate: float, fresh: str, ahead: float = 0) -> HueStretch:
    def at(week: float) -> HuePoint:
        return hue_point(week, fresh, math.exp(-rate * (week - start)))

    return HueStretch(
        label=label,
        path=tuple(at(start + (end - start) * n / 12) for n in range(13)),
        forecast=tuple(at(end + (n + 1) / 2) for n in range(round(ahead * 2))),
        measured=(at(start), at((start + end) / 2), at(end)),
        straight=(at(start), hue_point(end + 30, BASE, 1.0)),
    )


def hue_figure() -> HueFigure:
    return HueFigure(
        title="Both drift to the base",
        alt="Coral goes to yellow, violet goes to rose.",
        place="Mid-lengths",
        stretches=(
            stretch("Coral rose", 0, 4, 0.12, CORAL),
            stretch("Rose gloss", 4, 10, 0.11, ROSE),
            stretch("Violet", 10, 14, 0.09, VIOLET, ahead=6),
        ),
        base=hue_point(0, BASE, 1.0),
        table=TABLE,
    )


def grade_figure(audience: Audience = Audience.CLIENT) -> GradeFigure:
    courses = {
        "Roots": (4.2, 3.9, 4.4, 3.9, 3.7, 4.1),
        "Mid-lengths": (3.6, 3.2, 3.8, 2.9, 2.8, 3.4),
        "Ends": (3.1, 2.5, 3.4, 2.2, 2.1, 2.7),
    }
    weeks = (2.0, 4.0, 6.0, 9.0, 10.0, 14.0)
    series = tuple(
        (
            name,
            tuple(
                GradePoint(
                    when=when(w, audience),
                    grade=g,
                    grade_text=f"{g:g}",
                    delta_e=(5 - g) * 3,
                    distinguishable=g < 4.2,
                )
                for w, g in zip(weeks, grades, strict=True)
            ),
        )
        for name, grades in courses.items()
    )
    return GradeFigure(title="How much it changed", alt="Ends change most.", series=series, table=TABLE)


# Undertones and what neutralises them: common practice, no source. The colours are invented.
UNDERTONES = (
    (1, "#1d1512", "plum-black", "green"),
    (2, "#33201c", "red-violet", "green"),
    (3, "#4a2119", "red", "green"),
    (4, "#6b3018", "red-orange", "blue-green"),
    (5, "#8c481c", "orange", "blue"),
    (6, "#a96426", "gold-orange", "blue-violet"),
    (7, "#bf8538", "gold", "blue-violet"),
    (8, "#d3a34f", "deep yellow", "violet"),
    (9, "#e4c377", "yellow", "violet"),
    (10, "#f0dfae", "pale yellow", "violet"),
)


def ladder_figure() -> LadderFigure:
    marks = {5: "natural", 9: "lightened to, today"}
    steps = tuple(
        LadderStep(level=level, hex=colour, undertone=tone, neutraliser=against, mark=marks.get(level, ""))
        for level, colour, tone, against in UNDERTONES
    )
    return LadderFigure(title="Levels", alt="Ten levels.", steps=steps, notes=(), table=TABLE)


def chip(colour: str) -> Chip:
    return Chip(place="Crown", hex=colour, name="rose")


def fibre_figure() -> FibreFigure:
    def source(_edge: int) -> Image.Image:
        raise AssertionError("a chart asks for no photo")

    return FibreFigure(
        title="Single strands",
        alt="Three colours of strands.",
        when=when(14.0),
        picture=Picture(name="p01", width=10, height=10, alt="", caption="", source=source, fingerprint="f"),
        colours=(
            FibreColour(hex="#7c4a9c", name="violet", share=0.55),
            FibreColour(hex="#b57ba9", name="faded violet", share=0.3),
            FibreColour(hex="#787472", name="silver", share=0.15),
        ),
        from_afar=chip("#8f639c"),
        ordinary=None,
        difference="",
        facts=(),
    )


def edition(audience: Audience = Audience.CLIENT) -> Edition:
    """An edition with every chart, one place in its fade figure."""
    window = (when(15.7), when(18.2))
    return Edition(
        audience=audience,
        language="en",
        title="",
        lead="",
        facts=(),
        as_of=when(TODAY_WEEK, audience),
        strands=(),
        today=(),
        today_words=(),
        before_now=(),
        refresh=Refresh(sentence="", explain="", choices=(), window=window),
        fade=fade_figure(audience=audience),
        hue=hue_figure(),
        grade=grade_figure(audience),
        ladder=ladder_figure(),
        removal=None,
        fibres=(fibre_figure(),),
        bowls=(),
        contact=(),
        entries=(),
        care=(),
        cautions=(),
        options=(),
        options_table=None,
        shades=(),
        tables=(),
        questions=(),
        method=(),
        checklist=(),
        data=(),
        calendar=None,
        consent_lines=(),
        about=(),
        withheld=(),
    )


def class_edition() -> Edition:
    """Three places compared, weeks instead of dates."""
    places = (place("Roots", 0.06, "72 %"), place("Mid-lengths", 0.09), place("Ends", 0.14, "59 %"))
    return replace(edition(Audience.CLASS), fade=fade_figure(*places, audience=Audience.CLASS))
