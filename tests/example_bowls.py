"""The bowls and options of the example editions, with made-up grams and predicted colours."""

from __future__ import annotations

import math

from journey.edition import model as m
from journey.record.model import Audience
from tests.example_hair import NATURAL, hex_at, when


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
