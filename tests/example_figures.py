"""The figures and tables of the example editions, with made-up numbers."""

from __future__ import annotations

import math

import numpy as np

from journey.edition import model as m
from journey.record.model import Audience
from tests.example_hair import LAST_WEEK, NAMES, PLACES, TODAY, WEEKS, Sheets, chip, hex_at, when


def fade_figure(audience: Audience) -> m.FadeFigure:
    places = PLACES[1:2] if audience is Audience.CLIENT else PLACES[:3]
    series = []
    for place, cm in places:
        segments = []
        for at, until, label, loss in (
            (0, 4, "Coral rose", 0.12),
            (4, 10, "Rose gloss", 0.115),
            (10, 22, "Violet", 0.09),
        ):
            pace = loss * (1 + cm / 50)
            points = tuple(
                m.FadePoint(
                    week=float(w),
                    share=math.exp(-pace * (w - at)),
                    low=math.exp(-pace * (1 + 0.02 * max(w - TODAY, 0)) * (w - at)),
                    high=math.exp(-pace * (1 - 0.02 * max(w - TODAY, 0)) * (w - at)),
                    hex=hex_at(min(w, until - 0.01), cm),
                )
                for w in np.linspace(at, until, 2 * (until - at) + 1)
            )
            measured = tuple(p for p in points if p.week in WEEKS and p.week <= TODAY and p.week < until)
            segments.append(m.FadeSegment(label=label, points=points, measured=measured))
        series.append(m.FadeSeries(place=place, segments=tuple(segments), today_text="70 %"))
    rows = tuple(
        (
            m.Cell(text=when(audience, w).text),
            *(m.Cell(text=f"{90 - 3 * w % 40}", number=True) for _ in places),
        )
        for w in WEEKS
    )
    return m.FadeFigure(
        title="Ends lose colour about a third faster than mid-lengths",
        alt="Colour left in the hair, falling after every service from 100 % to about 55 %; 70 % today.",
        series=tuple(series),
        marks=tuple(
            m.Mark(when=when(audience, w), label=k)
            for w, k in ((0, "Coral rose"), (4, "Rose gloss"), (10, "Violet"))
        ),
        today=when(audience, TODAY),
        last_week=LAST_WEEK,
        refresh=(15.7, 18.1),
        table=m.Table(
            key="fade", title="Share of colour left, %", columns=("When", *(p for p, _ in places)), rows=rows
        ),
        note="Height is the colour left since the last service on that place.",
    )


def hue_figure(audience: Audience) -> m.HueFigure:
    def course(a0: float, b0: float, start: int, stop: int) -> tuple[m.HuePoint, ...]:
        return tuple(
            m.HuePoint(
                week=float(w),
                a=14 + (a0 - 14) * 0.93 ** (w - start),
                b=24 + (b0 - 24) * 0.9 ** (w - start),
                hex=hex_at(w, 10),
            )
            for w in range(start, stop + 1)
        )

    coral, violet = course(46, 27, 0, 4), course(42, -38, 10, 14)
    forecast = course(42, -38, 10, 22)[4:]
    stretches = tuple(
        m.HueStretch(
            label=name, path=path, forecast=ahead, measured=(path[0], path[-1]), straight=(path[0], path[-1])
        )
        for name, path, ahead in (("Coral rose", coral, ()), ("Violet", violet, forecast))
    )
    rows = tuple(
        (
            m.Cell(text=f"week {p.week:g}"),
            m.Cell(text=f"{p.a:.0f}", number=True),
            m.Cell(text=f"{p.b:.0f}", number=True),
        )
        for p in violet
    )
    return m.HueFigure(
        title="Coral drifts to yellow, violet drifts to rose: both drift to the base",
        alt="Two paths in the a* b* plane, both bending towards the pale yellow base.",
        place="Mid-lengths",
        stretches=stretches,
        base=m.HuePoint(week=0, a=9, b=34, hex="#e0bf92"),
        table=m.Table(key="hue", title="Hue path, mid-lengths", columns=("When", "a*", "b*"), rows=rows),
        note="Distance from the centre is how strong the colour is, direction is its hue.",
    )


def grade_figure(audience: Audience) -> m.GradeFigure:
    points = tuple(
        m.GradePoint(
            when=when(audience, w), grade=g, grade_text=f"{g:g}", delta_e=12 - 2 * g, distinguishable=g < 4.5
        )
        for w, g in ((2, 3.5), (6, 3.0), (9, 2.5), (12, 3.5), (14, 3.0))
    )
    rows = tuple((m.Cell(text=p.when.text), m.Cell(text=p.grade_text, number=True)) for p in points)
    return m.GradeFigure(
        title="How far the colour had moved, on the grey scale for change in colour",
        alt="Grades between 3.5 and 2.5.",
        series=tuple((place, points) for place, _ in PLACES[1:3]),
        table=m.Table(key="grade", title="Grey-scale grade", columns=("When", "Grade"), rows=rows),
    )


def readings_table(audience: Audience, weeks: tuple[int, ...], key: str, title: str) -> m.Table:
    archive = audience is Audience.ARCHIVE
    rows = []
    for w in weeks:
        for index, (place, cm) in enumerate(PLACES):
            rows.append(
                (
                    m.Cell(text=when(audience, w).text),
                    m.Cell(text=place),
                    m.Cell(
                        text=NAMES[w][index], hex=hex_at(w, cm), trace=f"r{w:02d}{index}" if archive else None
                    ),
                    *(
                        m.Cell(text=f"{v:.1f}", number=True)
                        for v in (61.2 - index, 43.4 - w, 24.0 - 2 * index)
                    ),
                    m.Cell(
                        text="none" if w in (4, 6) and index == 0 else f"{100 - 7 * (w % 4)}", number=True
                    ),
                )
            )
    return m.Table(
        key=key,
        title=title,
        columns=("When", "Place", "Colour", "L*", "a*", "b*", "Left, %"),
        rows=tuple(rows),
        note="CIELAB, D65, 2° observer; mean of three readings on dry hair.",
    )


def fibres(audience: Audience, sheets: Sheets) -> m.FibreFigure:
    afar = m.Chip(place="From afar", hex="#9a6a92", name="mauve", numbers="52, 24, −16 ± 3")
    return m.FibreFigure(
        title="One mauve, five colours of strand",
        alt="A magnified lock in which single strands are violet, rose and pale peach.",
        when=when(audience, 14),
        picture=sheets.lock(14, "Mid-lengths, 20× magnified", 10, (720, 480)),
        colours=tuple(
            m.FibreColour(hex=h, name=n, share=s)
            for h, n, s in (
                ("#6f4394", "violet", 0.34),
                ("#a0609a", "mauve", 0.31),
                ("#c58aa0", "rose", 0.2),
                ("#dcb49a", "pale peach", 0.15),
            )
        ),
        from_afar=afar,
        ordinary=chip(audience, 14, 1),
        difference="1.8 apart, which is hard to see (CIEDE2000).",
        facts=(m.Fact("Field", "6 × 4 mm"), m.Fact("Strands", "about 70")),
    )


def ladder(audience: Audience) -> m.LadderFigure:
    undertones = (
        "blue-black",
        "brown-black",
        "dark red",
        "red",
        "red-orange",
        "orange",
        "yellow-orange",
        "yellow",
        "pale yellow",
        "palest yellow",
    )
    against = (
        "",
        "",
        "green",
        "green",
        "blue-green",
        "blue",
        "blue-violet",
        "violet",
        "violet",
        "pearl violet",
    )
    steps = tuple(
        m.LadderStep(
            level=i + 1,
            hex="#" + "".join(f"{round(30 + (v - 30) * (i / 9) ** 1.2):02x}" for v in (244, 222, 172)),
            undertone=u,
            neutraliser=n,
            mark={4: "natural", 8: "lengths", 9: "ends"}.get(i, ""),
        )
        for i, (u, n) in enumerate(zip(undertones, against, strict=True))
    )
    rows = tuple(
        (
            m.Cell(text=str(s.level), number=True),
            m.Cell(text=s.undertone, hex=s.hex),
            m.Cell(text=s.neutraliser),
        )
        for s in steps
    )
    return m.LadderFigure(
        title="Four levels lifted, and what lay underneath",
        alt="Ten levels with their undertone; natural at 5, lengths at 9, ends at 10.",
        steps=steps,
        notes=("Undertones and their neutralisers are common practice.",),
        table=m.Table(
            key="ladder",
            title="Levels and undertones",
            columns=("Level", "Undertone", "Neutraliser"),
            rows=rows,
        ),
    )


def removal_figure(audience: Audience) -> m.RemovalFigure:
    def stage(label: str, left: str) -> m.RemovalStage:
        one = chip(audience, 14, 1)
        return m.RemovalStage(label=label, left=left, light=one, expected=one, strong=one)

    told = (("today", "100 %"), ("after one removal", "40 %"), ("after 2 removals", "16 %"))
    stages = tuple(stage(label, left) for label, left in told)
    table = m.Table(
        key="removal",
        title="Layers on the hair",
        columns=("Place", "Colour", "Today"),
        rows=((m.Cell(text="Crown"), m.Cell(text="Violet"), m.Cell(text="53 %", number=True)),),
    )
    return m.RemovalFigure(
        title="Violet comes off first; after 2 removals no more than a stain is left",
        alt="Crown, mid-lengths, today and after each removal: violet, lilac and beige.",
        order=("Violet comes off first, then coral.",),
        rows=(("Crown, mid-lengths", stages), ("Crown, ends", stages)),
        pairs_title="Foretold and read, week 9",
        pairs=(
            m.RemovalPair(
                place="Crown, ends",
                foretold=chip(audience, 14, 1),
                read=chip(audience, 14, 1),
                words="2 apart, within 9: the photo does not contradict it",
            ),
        ),
        notes=("One removal is taken to leave 40 %.",),
        tables=(table,),
    )
