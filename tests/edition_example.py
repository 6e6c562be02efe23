"""A believable edition for each audience, from plain values: what the site is handed when nothing else runs.

Decides one invented head of hair (coral rose to violet in fourteen weeks) with made-up numbers and painted
locks. Nothing here is measured, fitted or filtered; it only has the shape of what the earlier stages hand on.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import partial

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from journey.edition import model as m
from journey.record.model import Audience

GROWTH_CM_PER_WEEK = 0.29
LAST_WEEK, TODAY = 22.0, 14.0
NATURAL, LIGHTENED = (0.10, 0.062, 0.038), (0.74, 0.52, 0.30)
CORAL, ROSE, MAHOGANY, VIOLET = (
    (0.74, 0.12, 0.12),
    (0.70, 0.13, 0.16),
    (0.19, 0.05, 0.055),
    (0.14, 0.035, 0.30),
)

# (week, label, from cm, to cm, colour, share lost a week, cm cut)
SERVICES = (
    (0.0, "Coral rose", 0.0, 99.0, CORAL, 0.10, 0.0),
    (4.0, "Rose gloss", 2.0, 99.0, ROSE, 0.09, 0.0),
    (7.0, "Root melt, 2 cm off", 0.0, 5.0, MAHOGANY, 0.02, 2.0),
    (10.0, "Lightened root, violet, 1.2 cm off", 0.0, 99.0, VIOLET, 0.085, 1.2),
)
PLACES = (("Roots", 0.6), ("Mid-lengths", 10.0), ("Ends", 22.0), ("Nape", 6.0))
WEEKS = (0, 2, 4, 6, 7, 9, 10, 12, 14)
DATES = ("7 March", "21 March", "4 April", "18 April", "25 April", "9 May", "16 May", "30 May", "13 June")
NAMES = {
    0: ("coral rose", "bright coral", "bright coral", "bright coral rose"),
    2: ("soft coral rose", "coral", "pale coral", "coral"),
    4: ("light brown", "bright coral", "bright coral", "bright coral rose"),
    6: ("light brown", "coral", "coral", "coral"),
    7: ("deep coral rose", "coral", "pale coral", "coral"),
    9: ("rosy brown", "coral", "pale peach", "coral"),
    10: ("deep violet", "deep violet", "bright violet", "deep violet"),
    12: ("deep plum", "violet", "mauve", "deep violet"),
    14: ("rosy brown", "mauve", "soft mauve", "soft plum"),
}


def colour_at(week: NDArray[np.float64], cm: NDArray[np.float64]) -> NDArray[np.float64]:
    """Encoded sRGB (..., 3) of the hair `cm` from the scalp in `week`."""
    week, cm = np.broadcast_arrays(np.asarray(week, float), np.asarray(cm, float))
    grown = cm - GROWTH_CM_PER_WEEK * week
    under = np.where((grown > 0.3)[..., None], LIGHTENED, NATURAL)
    linear = np.array(under)
    for at, label, low, high, dye, loss, _cut in SERVICES:
        then = grown + GROWTH_CM_PER_WEEK * at
        touched = (week >= at) & (then >= max(low, 0)) & (then <= high)
        if label.startswith("Lightened"):
            under = np.where(touched[..., None], LIGHTENED, under)
        share = np.exp(-loss * (1 + np.clip(then, 0, 26) / 40) * np.maximum(week - at, 0))[..., None]
        linear = np.where(touched[..., None], under * (1 - share) + np.array(dye) * share, linear)
    return np.where(
        linear <= 0.0031308, 12.92 * linear, 1.055 * np.maximum(linear, 1e-6) ** (1 / 2.4) - 0.055
    )


def hex_at(week: float, cm: float) -> str:
    red, green, blue = (round(255 * float(v)) for v in colour_at(np.array(week), np.array(cm)))
    return f"#{red:02x}{green:02x}{blue:02x}"


def length_cm(week: NDArray[np.float64]) -> NDArray[np.float64]:
    cut = sum(np.where(week >= at, lost, 0.0) for at, *_rest, lost in SERVICES)
    return 24 + GROWTH_CM_PER_WEEK * week - cut


def raster_rgba(silver: bool = False) -> NDArray[np.uint8]:
    weeks = np.arange(0, LAST_WEEK, 1 / 28)
    cms = np.arange(0, 26.2, 0.1)
    rgb = np.round(255 * colour_at(weeks[:, None], cms[None, :]))
    if silver:
        rgb = 128 + (rgb - rgb.mean(-1, keepdims=True)) * 0.05
    alpha = np.where(cms[None, :] <= length_cm(weeks)[:, None], 255, 0)[..., None]
    return np.concatenate([rgb, alpha], -1).astype(np.uint8)


def paint_lock(top: str, end: str, seed: int, size: tuple[int, int], edge: int) -> Image.Image:
    """A waving lock on the grey card, from the colour at its top to the colour at its end."""
    width, height = size
    noise = np.random.default_rng(seed)
    y, x = np.mgrid[0:height, 0:width].astype(float)
    sway = 7 * np.sin(y / 55 + seed) + 3 * np.sin(y / 23 + 2 * seed)
    strand = ((x + sway) * 0.9).astype(int) % 997
    shade = noise.normal(1, 0.11, 1024)[strand] * (1 + 0.10 * np.sin(y / 41 + strand * 0.07))
    ends = height * (0.86 + 0.05 * noise.normal(size=1024))[strand]
    t = (y / height)[..., None]
    ink = [np.array([int(c[i : i + 2], 16) for i in (1, 3, 5)], float) for c in (top, end)]
    hair = np.clip((ink[0] * (1 - t) + ink[1] * t) * shade[..., None], 0, 255)
    inside = (np.abs(x + sway * 0.6 - width / 2) < width * 0.42) & (y < ends)
    pixels = np.where(inside[..., None], hair, 0x76).astype(np.uint8)
    picture = Image.fromarray(pixels)
    picture.thumbnail((edge, edge))
    return picture


class Sheets:
    """Hands out pictures with neutral names in page order."""

    def __init__(self) -> None:
        self.made = 0

    def lock(self, week: float, place: str, cm: float, size: tuple[int, int] = (320, 320)) -> m.Picture:
        self.made += 1
        draw: Callable[[int], Image.Image] = partial(
            paint_lock, hex_at(week, max(cm - 3, 0)), hex_at(week, cm + 3), self.made, size
        )
        return m.Picture(
            name=f"p{self.made:02d}",
            width=size[0],
            height=size[1],
            alt=f"{place}, photographed on a grey card",
            caption=place,
            source=draw,
            fingerprint=f"{week}-{place}-{size}-{self.made}",
        )


def when(audience: Audience, week: float) -> m.When:
    if audience is Audience.CLASS or week not in WEEKS:
        return m.When(f"week {week:g}", week)
    return m.When(DATES[WEEKS.index(int(week))], week)


def chip(audience: Audience, week: int, index: int) -> m.Chip:
    place, cm = PLACES[index]
    client = audience is Audience.CLIENT
    return m.Chip(
        place=place,
        hex=hex_at(week, cm),
        name=NAMES[week][index],
        numbers=None if client else f"{60 - 2 * index}, {44 - week}, {24 - 3 * index} ± 2",
        trace=f"r{week:02d}{index}" if audience is Audience.ARCHIVE else None,
        zone="nape" if index == 3 else "crown",
        band=place.lower(),
        weak="No grey card in this photo: trend only." if week == 6 and index == 2 else None,
        out_of_screen=week == 10 and index == 2,
    )


def strand(audience: Audience, silver: bool = False) -> m.StrandRaster:
    marks = [m.Mark(when=when(audience, at), label=label) for at, label, *_ in SERVICES]
    marks.append(m.Mark(when=when(audience, TODAY), label="Today", is_service=False))
    follow = tuple((float(w), 6 + GROWTH_CM_PER_WEEK * w) for w in range(15))
    return m.StrandRaster(
        key="crown",
        zone="Crown",
        rgba=raster_rgba(silver),
        first_week=0.0,
        rows_per_week=28,
        forecast_from=TODAY,
        last_week=LAST_WEEK,
        longest_cm=26.1,
        marks=tuple(marks),
        follow=follow if audience is Audience.CLASS else (),
        alt="The hair from root to tip over fourteen weeks: coral, refreshed, darker at the root, then violet.",
        title="New growth opens from the scalp; two trims take 3.2 cm off the tips",
        table=None if audience is Audience.CLIENT else strand_table(audience),
    )


def strand_table(audience: Audience) -> m.Table:
    rows = tuple(
        (
            m.Cell(text=when(audience, w).text),
            m.Cell(text=f"{float(length_cm(np.array(w))):.1f}", number=True),
            m.Cell(text=f"{GROWTH_CM_PER_WEEK * w:.1f}", number=True),
        )
        for w in WEEKS
    )
    return m.Table(
        key="strand-crown",
        title="Length and new growth, crown",
        columns=("When", "Length, cm", "Grown, cm"),
        rows=rows,
    )


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


def bowl(audience: Audience, title: str, week: int, parts: tuple[tuple[str, float, str], ...]) -> m.BowlCard:
    lots = audience is Audience.ARCHIVE
    total = sum(g for _, g, _ in parts)
    facts = [m.Fact("Pure colour", f"{100 * parts[0][1] / total:.0f} %"), m.Fact("In all", f"{total:g} g")]
    if lots:
        facts += [m.Fact("Cost", "4.20 €", "c12"), m.Fact("Left over", "6 g")]
    return m.BowlCard(
        title=title,
        when=when(audience, week),
        parts=tuple(
            m.BowlPart(name=n, grams=g, role=r, extra=f"lot {week}A7" if lots else "") for n, g, r in parts
        ),
        total_g=total,
        facts=tuple(facts),
        cautions=("3.4 % peroxide in the mixture.",) if week == 7 else (),
    )


def bowls(audience: Audience) -> tuple[m.BowlCard, ...]:
    return (
        bowl(
            audience,
            "Coral rose, all over",
            0,
            (
                ("Clear cream base", 30, "clear"),
                ("Coral direct colour", 28, "colour"),
                ("Rose direct colour", 12, "colour"),
            ),
        ),
        bowl(
            audience,
            "Rose gloss, mids and ends",
            4,
            (
                ("Clear gloss", 25, "clear"),
                ("Rose direct colour", 15, "colour"),
                ("Coral direct colour", 6, "colour"),
            ),
        ),
        bowl(
            audience,
            "Root melt",
            7,
            (
                ("Developer 1.5 %", 30, "developer"),
                ("Demi 6.4 copper", 12, "colour"),
                ("Demi 6.5 mahogany", 8, "colour"),
            ),
        ),
        bowl(
            audience,
            "Violet, after lightening 2.9 cm of regrowth",
            10,
            (
                ("Violet direct colour", 40, "colour"),
                ("Clear cream base", 20, "clear"),
                ("Rose direct colour", 8, "colour"),
                ("Blue direct colour", 4, "colour"),
            ),
        ),
    )


ENTRY_WORDS = {
    0: (
        "Coral rose",
        "Bright coral rose over your lightened lengths, a touch deeper at the root so the first weeks of growth would blend in.",
    ),
    2: (
        "Your photos from home",
        "Two weeks of washing three times a week. The pink in the coral is leaving first, which is why it looks warmer. Nothing is wrong.",
    ),
    4: (
        "Rose gloss",
        "We put the pink back through the mids and ends and left your own colour alone at the root. It took *twenty minutes* at the basin.",
    ),
    6: (
        "Your photos from home",
        "You wrote that the roots were starting to bother you. In the mirror that is 1.7 cm of your own light brown.",
    ),
    7: (
        "Root melt and a trim",
        "A soft copper rose combed from the root down to 5 cm so there was no line, and 2 cm off the ends where the colour had gone thin.",
    ),
    9: (
        "Your photos from home",
        "The peach stage. You said you liked it but wanted something cooler for summer, so we planned the violet.",
    ),
    10: (
        "Violet",
        "First we lightened the new growth so the violet would have the same pale base everywhere. Then violet from root to tip.",
    ),
    12: (
        "Your photos from home",
        "The deepest blue has rinsed away, as it does in the first six washes. What stays is truer to how it will look for the next month.",
    ),
    14: (
        "Check-in",
        "Mauve now, and even from mids to nape. The ends are lighter because they have been lightened the longest.",
    ),
}


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


def entries(audience: Audience, sheets: Sheets) -> tuple[m.Entry, ...]:
    made = []
    archive = audience is Audience.ARCHIVE
    cards = {card.when.week: card for card in bowls(audience)}
    for number, w in enumerate(WEEKS):
        title, words = ENTRY_WORDS[w]
        visit = w in cards or w == 14
        until = WEEKS[number + 1] if number + 1 < len(WEEKS) else TODAY
        facts = (
            (m.Fact("In the chair", "1 h 40"), m.Fact("Cost", "78.00 €", "c9"), m.Fact("Colourist", "S2"))
            if archive and visit
            else ()
        )
        services: tuple[m.ServiceLine, ...] = ()
        if w in cards:
            own = (
                (m.Fact("Time", "35 min, no heat", "s4"), m.Fact("Sections", "5 mm"))
                if archive
                else (m.Fact("Time", "35 min"),)
            )
            services = (
                m.ServiceLine(
                    name="Direct colour",
                    where="roots to ends",
                    facts=own,
                    bowl=cards[w],
                    seen="Even, a little warmer at the nape.",
                ),
            )
        made.append(
            m.Entry(
                key=f"e{number + 1}",
                when=when(audience, w),
                is_visit=visit,
                title=title,
                words=words,
                services=services,
                pictures=tuple(sheets.lock(w, place, cm) for place, cm in PLACES),
                chips=tuple(chip(audience, w, i) for i in range(4)),
                numbers=readings_table(audience, (w,), f"numbers-e{number + 1}", "What was measured"),
                spans=(float(w), float(until)),
                facts=facts,
            )
        )
    return tuple(made)


def option(
    key: str,
    title: str,
    words: str,
    audience: Audience,
    target: tuple[float, float, float],
    minutes: int,
    know: str,
) -> m.OptionCard:
    def predicted(weeks_on: float, uptake: float) -> str:
        share = uptake * math.exp(-0.08 * weeks_on)
        rgb = [
            255 * (share * t + (1 - share) * b) ** (1 / 2.2)
            for t, b in zip(target, (0.5, 0.3, 0.35), strict=True)
        ]
        return "#" + "".join(f"{round(v):02x}" for v in rgb)

    stages = tuple(
        m.OptionStage(
            when=m.When(text, float(w)),
            place="Mid-lengths",
            **{
                k: m.Chip(place="Mid-lengths", hex=predicted(w, u), name=title.lower())
                for k, u in (("light", 0.7), ("expected", 0.85), ("strong", 1.0))
            },
        )
        for w, text in ((0, "right after"), (4, "after 4 weeks"), (8, "after 8 weeks"))
    )
    facts = [m.Fact("In the chair", "One visit, 1 h 15"), m.Fact("When", "Between 25 June and 12 July")]
    if audience is Audience.ARCHIVE:
        facts.append(m.Fact("Cost", "about 62 €", "o1"))
    return m.OptionCard(
        key=key,
        title=title,
        words=words,
        strip=((0.0, hex_at(14, 10)), *((w + 0.1, predicted(w, 0.85)) for w in range(0, 13))),
        stages=stages,
        facts=tuple(facts),
        minutes=minutes,
        longest_minutes=165,
        steps=("Skin allergy test 48 hours before", "One visit"),
        against=(m.CautionLine(weight="ask", text=know, source="product instructions"),),
    )


def options(audience: Audience) -> tuple[m.OptionCard, ...]:
    return (
        option(
            "o1",
            "Keep the violet",
            "A refresh on the mids and ends, and a little at the root.",
            audience,
            (0.14, 0.035, 0.30),
            75,
            "Tell us if your scalp has been sore or you have started any medicine.",
        ),
        option(
            "o2",
            "Let it go lilac",
            "A clear gloss with a drop of violet, then we let it fade pale and even.",
            audience,
            (0.55, 0.38, 0.62),
            45,
            "Lilac needs a pale base. Your first 4 cm are darker, so the top will stay mauve.",
        ),
        option(
            "o3",
            "Go deeper, to plum",
            "Two layers of red-violet. Rich, glossy, and it hides the new growth well.",
            audience,
            (0.12, 0.02, 0.06),
            135,
            "Plum is hard to leave. Expect three to four months before going light again.",
        ),
        option(
            "o4",
            "Back to your own brown",
            "We fill the hair with warm tones first, then match your root.",
            audience,
            NATURAL,
            165,
            "It cannot be skipped to one visit, because pale hair swallows brown and can look grey-green.",
        ),
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


CARE = (
    (
        "Wash in cool or lukewarm water",
        "because hot water opens the hair and the violet leaves with it.",
        None,
    ),
    (
        "Leave two days between washes if you can",
        "because washing is what takes your colour: each wash costs you about 3 to 4 % of it.",
        "about 9 days more",
    ),
    (
        "Violet mask on every third wash, mids and ends, ten minutes",
        "because it puts back a little of what the washes took.",
        None,
    ),
    ("Keep irons and dryers under 180 °C", "because more heat turns violet pink before it fades it.", None),
    (
        "Wear a hat on long days outside",
        "because sunlight takes the blue first, and violet without its blue is rose.",
        None,
    ),
)
WASHES = (
    (1, "once a week", "best from 18 July, and still good in August"),
    (2, "twice a week", "best from 1 July to 27 July"),
    (3, "3 times a week", "best from 25 June to 12 July (what you told us)"),
    (4, "4 times a week", "best from 22 June to 5 July"),
    (6, "6 times a week", "best from 19 June to 28 June"),
)


def example_edition(audience: Audience, *, silver: bool = False) -> m.Edition:
    sheets = Sheets()
    client, lesson, archive = (audience is a for a in (Audience.CLIENT, Audience.CLASS, Audience.ARCHIVE))
    told = entries(audience, sheets)
    options_here = options(audience)
    compare = m.Table(
        key="options",
        title="The four side by side",
        columns=("", "Visits", "In the chair", "After 8 weeks"),
        rows=tuple(
            (
                m.Cell(text=o.title),
                m.Cell(text="1", number=True),
                m.Cell(text=f"{o.minutes} min", number=True),
                m.Cell(text="softer", hex=o.stages[2].expected.hex),
            )
            for o in options_here
        ),
    )
    questions = (
        m.Question(
            figure="strand",
            question="The dashed line is one point on the hair. Why does it slope, and what would a steeper slope mean?",
            answer="It grows out with the hair. Steeper means faster growth.",
        ),
        m.Question(
            figure="fade",
            question="Which zone should set the refresh date, and for whom?",
            answer="The ends, if they are worn loose.",
        ),
        m.Question(
            figure="decision",
            question="Week 9. The client asks for violet next week. Plan it.",
            answer="**B**, because violet over yellow goes muddy.",
            choices=(
                "Violet straight over everything",
                "Lighten the new growth, then violet root to tip",
                "Strip what is left of the coral first",
                "Say no, and offer rose until week 14",
            ),
        ),
        m.Question(
            figure="hue",
            question="Both paths bend the same way in the end. What is at the place they are heading for?",
            answer="The lightened base.",
        ),
        m.Question(
            figure="contact",
            question="Where does a photograph disagree with its chip, and which one do you believe?",
            answer="Week 6, ends: no grey card.",
        ),
        m.Question(
            figure="bowls", question="Why does a violet bowl carry 8 g of rose?", answer="It warms the fade."
        ),
    )
    return m.Edition(
        audience=audience,
        language="en",
        title="A coral rose taken to violet in fourteen weeks" if lesson else "Coral rose to violet",
        lead="Fourteen weeks of your hair, hanging as it hangs from your head. Your own colour grows in along the top, trims step up along the bottom, and the combed part is what we expect next."
        if client
        else "Four services, five self-taken photo sets, two trims. Weeks count from the first service.",
        facts=tuple(
            m.Fact(a, b, f"f{i}" if archive else None)
            for i, (a, b) in enumerate(
                (
                    ("Natural", "Light brown, level 5"),
                    ("Lengths", "Pre-lightened, level 9 mids, level 10 ends"),
                    ("At week 0", "24 cm, root shade to 0.3 cm"),
                    ("Washing", "Three times a week, soft water"),
                    ("Heat", "Iron twice a week, about 190 °C"),
                )
            )
        ),
        as_of=when(audience, TODAY),
        strands=(strand(audience, silver),),
        today=tuple(chip(audience, 14, i) for i in range(4)),
        today_words=(
            "The violet has softened to mauve. About 70 % of it is left through the mid-lengths and 59 % at the ends, which is right on track for four weeks.",
        ),
        before_now=tuple(
            (when(audience, w), sheets.lock(w, f"Back, {when(audience, w).text}", 10, (560, 700)))
            for w in (0, 7, 14)
        ),
        refresh=m.Refresh(
            sentence="The best time to come back is 25 June to 12 July.",
            explain="Earlier than that it is still rich. Later, a refresh turns into a full colour.",
            choices=tuple(
                m.WashChoice(washes_a_week=n, label=a, answer=b, is_hers=n == 3) for n, a, b in WASHES
            ),
            window=(m.When("25 June", 15.7), m.When("12 July", 18.1)),
        ),
        fade=fade_figure(audience),
        hue=None if client else hue_figure(audience),
        grade=None if client else grade_figure(audience),
        ladder=None if client else ladder(audience),
        fibres=() if client else (fibres(audience, sheets),),
        bowls=bowls(audience),
        contact=tuple(
            (e.when, tuple((p.caption, p, c) for p, c in zip(e.pictures, e.chips, strict=True))) for e in told
        ),
        entries=told,
        care=tuple(m.CareItem(*c) for c in CARE) if not lesson else (),
        cautions=(
            m.CautionLine(
                weight="ask",
                text="Skin allergy test 48 hours before any new colour, as its instructions say.",
                source="product instructions",
            ),
        ),
        options=options_here,
        options_table=compare,
        tables=()
        if client
        else (readings_table(audience, WEEKS, "readings", "Measured colour, nine visits, four places"),),
        questions=questions if lesson else (),
        method=(
            m.MethodNote(
                "How the colours were read",
                "Each colour was read from a photo with a *grey card* in it and moved to one light.",
            ),
            m.MethodNote("How sure a number is", "± is one standard uncertainty."),
        )
        if not client
        else (),
        checklist=tuple(
            m.ChecklistItem(number=str(i + 1), item=a, where=b, anchor=c)
            for i, (a, b, c) in enumerate(
                (
                    ("Patient information", "Facts", "facts"),
                    ("Timeline", "Figure 1", "strand"),
                    ("Informed consent", "Held by the salon, not reported here", None),
                )
            )
        )
        if lesson
        else (),
        data=(
            m.DataFile(
                name="readings.csv", label="All readings", text="week,place,L,a,b\n0,roots,61,43,24\n"
            ),
        )
        if not client
        else (),
        calendar="BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//example//en\r\nEND:VCALENDAR\r\n"
        if client
        else None,
        consent_lines=("Class: photos of hair without face, from 7 March, until withdrawn.",)
        if archive
        else (),
        about=(
            "Each colour was measured in the salon on dry hair, against a grey card, and is shown here on that same grey so nothing beside it tints your eye.",
            "Screens differ: if the ribbon looks off on your phone, turn off night mode and turn the brightness up.",
        ),
        withheld=()
        if client
        else (
            m.Withheld("Names and dates", 23, "not needed to learn from"),
            m.Withheld("Photos with a face", 2, "no permission for this audience"),
        ),
    )
