"""A believable edition for each audience, from plain values: what the site is handed when nothing else runs.

Decides one invented journey (coral rose to violet in fourteen weeks) and its words. Nothing here is measured,
fitted or filtered; it only has the shape of what the earlier stages hand on.
"""

from __future__ import annotations

from journey.edition import model as m
from journey.record.model import Audience
from tests.example_bowls import bowls, options
from tests.example_figures import (
    fade_figure,
    fibres,
    grade_figure,
    hue_figure,
    ladder,
    readings_table,
    removal_figure,
)
from tests.example_hair import PLACES, TODAY, WEEKS, Sheets, chip, strand, when

ENTRY_WORDS = {
    0: (
        "Coral rose",
        "Bright coral rose over your lightened lengths, a touch deeper at the root so the"
        " first weeks of growth would blend in.",
    ),
    2: (
        "Your photos from home",
        "Two weeks of washing three times a week. The pink in the coral is leaving first,"
        " which is why it looks warmer. Nothing is wrong.",
    ),
    4: (
        "Rose gloss",
        "We put the pink back through the mids and ends and left your own colour alone at"
        " the root. It took *twenty minutes* at the basin.",
    ),
    6: (
        "Your photos from home",
        "You wrote that the roots were starting to bother you. In the mirror that is 1.7 "
        "cm of your own light brown.",
    ),
    7: (
        "Root melt and a trim",
        "A soft copper rose combed from the root down to 5 cm so there was no line, and 2"
        " cm off the ends where the colour had gone thin.",
    ),
    9: (
        "Your photos from home",
        "The peach stage. You said you liked it but wanted something cooler for summer, "
        "so we planned the violet.",
    ),
    10: (
        "Violet",
        "First we lightened the new growth so the violet would have the same pale base "
        "everywhere. Then violet from root to tip.",
    ),
    12: (
        "Your photos from home",
        "The deepest blue has rinsed away, as it does in the first six washes. What stays"
        " is truer to how it will look for the next month.",
    ),
    14: (
        "Check-in",
        "Mauve now, and even from mids to nape. The ends are lighter because they have "
        "been lightened the longest.",
    ),
}


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
                past=w < 10,
            )
        )
    return tuple(made)


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
            question=(
                "The dashed line is one point on the hair. Why does it slope, and what would "
                "a steeper slope mean?"
            ),
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
        lead=(
            "Fourteen weeks of your hair, hanging as it hangs from your head. Your own colour"
            " grows in along the top, trims step up along the bottom, and the combed part is "
            "what we expect next."
        )
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
            "The violet has softened to mauve. About 70 % of it is left through the mid-"
            "lengths and 59 % at the ends, which is right on track for four weeks.",
        ),
        before_now=tuple(
            (when(audience, w), sheets.lock(w, f"Back, {when(audience, w).text}", 10, (560, 700)))
            for w in (0, 7, 14)
            if client
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
        removal=None if client else removal_figure(audience),
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
        shades=("Would still show true over today's hair: violet.", "Would turn: teal (to grey)."),
        tables=()
        if client
        else (readings_table(audience, WEEKS, "readings", "Measured colour, nine visits, four places"),),
        questions=questions if lesson else (),
        worked=() if client else (m.WorkedSum("Grown", ("Grown: 0.4 × 98 ÷ 10 = 3.9 cm",)),),
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
            "Each colour was measured in the salon on dry hair, against a grey card, and "
            "is shown here on that same grey so nothing beside it tints your eye.",
            "Screens differ: if the ribbon looks off on your phone, turn off night mode "
            "and turn the brightness up.",
        ),
        withheld=()
        if client
        else (
            m.Withheld("Names and dates", 23, "not needed to learn from"),
            m.Withheld("Photos with a face", 2, "no permission for this audience"),
        ),
    )
