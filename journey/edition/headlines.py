"""What is said first: today's colours, what happened to them, when to come back, and the facts of this hair."""

from __future__ import annotations

from journey.edition.desk import Desk
from journey.edition.entry_view import shown_readings
from journey.edition.fade_view import fades_of
from journey.edition.model import Chip, Fact, Refresh, WashChoice
from journey.hair.absent import Absent
from journey.study.calendar import entries_in_order
from journey.study.fading import latest_fade
from journey.study.model import Place, Reading, WashWhatIf

_NEVER_IS_TOLD = {True: 0.10, False: 0.005}
"""Above this chance of never going thin, the client (True) and the others (False) are told of it."""


def todays_readings(desk: Desk) -> tuple[Reading, ...]:
    """The last reading of each place of the last entry that has any."""
    for entry in reversed(entries_in_order(desk.record.journey)):
        found = shown_readings(desk, entry)
        if found:
            return found
    return ()


def today_chips(desk: Desk) -> tuple[Chip, ...]:
    return tuple(
        desk.chip(reading.place, reading.body_lab, reading, f"reading.{reading.key}")
        for reading in todays_readings(desk)
    )


def today_words(desk: Desk) -> tuple[str, ...]:
    """What the colour has become, how much of it is left where, and what has grown since."""
    words, said = desk.words, []
    leading = latest_fade(desk.study.fades, desk.study.leading)
    if leading is not None and not isinstance(leading.share_now, Absent):
        said.append(
            words.say(
                "today.colour",
                label=desk.gate.text("Service.name", leading.label),
                now=desk.colour(leading.path.lab_at(leading.share_now.median)),
                share=words.percent(leading.share_now.median),
                place=desk.band(desk.study.leading.band),
            )
        )
        ends = latest_fade(desk.study.fades, Place(desk.study.leading.zone, "ends"))
        if ends is not None and not isinstance(ends.share_now, Absent):
            key = (
                "today.ends-less"
                if ends.share_now.median < leading.share_now.median - 0.05
                else "today.ends-same"
            )
            said.append(words.say(key, share=words.percent(ends.share_now.median)))
    strand = next((one for one in desk.study.strands if one.zone == desk.study.leading.zone), None)
    if strand is not None and not isinstance(strand.new_growth_cm, Absent):
        said.append(words.say("today.growth", cm=strand.new_growth_cm.median))
    for one in desk.study.strands:
        if one.colour_gone_on is not None and one.colour_gone_on <= desk.study.as_of:
            said.append(words.say("today.clipped", zone=desk.zone(one.zone)))
    return tuple(said)


def refresh_words(desk: Desk) -> Refresh:
    """The best time to come back, and the same for every washing habit."""
    words, refresh = desk.words, desk.study.refresh
    if isinstance(refresh, Absent):
        return Refresh(
            sentence=words.say("refresh.unknown", reason=desk.because(refresh)),
            explain="",
            choices=(),
            window=None,
        )
    window = refresh.window
    hers = round(desk.record.journey.hair.washes_a_week)
    if isinstance(window, Absent):
        sentence = words.say("refresh.unknown", reason=desk.because(window))
    else:
        sentence = words.say("refresh.sentence", span=words.span(*window))
    explain = [words.say("refresh.explain")]
    if refresh.earliest is not None and refresh.latest is not None:
        explain.append(words.say("refresh.interval", early=refresh.earliest, late=refresh.latest))
    elif refresh.earliest is not None:
        explain.append(words.say("refresh.interval-open", early=refresh.earliest))
    if refresh.probability_never > _NEVER_IS_TOLD[desk.is_client]:
        explain.append(words.say("refresh.may-stay", chance=words.percent(refresh.probability_never)))
    return Refresh(
        sentence=sentence,
        explain=" ".join(explain),
        choices=tuple(_choice(desk, one, one.washes_a_week == hers) for one in refresh.what_if),
        window=None if isinstance(window, Absent) else (words.when(window[0]), words.when(window[1])),
    )


def _choice(desk: Desk, one: WashWhatIf, is_hers: bool) -> WashChoice:
    words = desk.words
    window = one.window
    answer = (
        desk.because(window)
        if isinstance(window, Absent)
        else words.say("refresh.answer", span=words.span(*window))
    )
    if is_hers:
        answer = f"{answer} {words.say('refresh.hers')}"
    return WashChoice(
        washes_a_week=one.washes_a_week,
        label=words.say(f"refresh.label.{min(one.washes_a_week, 3)}", n=float(one.washes_a_week)),
        answer=answer,
        is_hers=is_hers,
    )


def facts(desk: Desk) -> tuple[Fact, ...]:
    """The hair at a glance: levels, length, washing, heat, water."""
    words, gate, hair = desk.words, desk.gate, desk.record.journey.hair
    found: list[Fact] = []

    def add(name: str, text: str) -> None:
        if text:
            found.append(Fact(words.say(f"fact.{name}"), text))

    add(
        "natural", words.say("fact.natural-level", level=gate.value("Hair.natural_level", hair.natural_level))
    )
    add(
        "texture",
        words.listing(
            [
                text
                for text in (gate.text("Hair.texture", hair.texture), gate.text("Hair.density", hair.density))
                if text
            ]
        ),
    )
    lengths = [
        words.say("fact.zone-length", zone=desk.zone(zone.key), cm=zone.length.cm)
        for zone in desk.record.journey.zones
    ]
    add("length", words.listing(lengths))
    add("washing", words.say("fact.washes", n=hair.washes_a_week))
    if hair.heat is not None:
        add("heat", _heat(desk))
    if hair.water is not None:
        add("water", words.say(f"fact.water-{hair.water}"))
    history = [gate.text("Hair.history", one) for one in hair.history]
    add("history", "; ".join(text for text in history if text))
    followed = sum(len(fades_of(desk, place)) for place in desk.study.places)
    if not desk.is_client:
        add("followed", words.say("fact.followed-what", readings=len(desk.study.readings), fades=followed))
    return tuple(found)


def _heat(desk: Desk) -> str:
    heat = desk.record.journey.hair.heat
    if heat is None:
        return ""
    tool = desk.gate.text("HeatHabit.tool", heat.tool)
    if heat.temperature is None:
        return desk.words.say("fact.heat-plain", tool=tool, n=heat.times_a_week)
    return desk.words.say("fact.heat-at", tool=tool, n=heat.times_a_week, celsius=heat.temperature.celsius)
