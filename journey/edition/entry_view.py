"""The timeline: one entry per visit and check-in, with words, services, photos, colours and numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import date

from journey.edition.bowl_view import bowl_card, money
from journey.edition.desk import Desk
from journey.edition.model import Chip, Entry, Fact, Picture, ServiceLine, When
from journey.edition.reading_table import readings_table
from journey.record.model import Audience, CheckIn, Condition, Photo, Service, ServiceKind, Visit
from journey.record.private import reveal
from journey.study.calendar import entries_in_order
from journey.study.fading import latest_fade
from journey.study.model import Place, Reading
from journey.study.unread import UnreadPatch

_STAGE_ORDER = ("home", "after", "removed", "lightened", "before")
_PLACES_AT_HOME = 2
"""On the client's phone a home photo shows two places: nine full trays are too long a page."""


def entries(desk: Desk) -> tuple[Entry, ...]:
    """In order of day; each one's stretch of ribbon runs to the next."""
    ordered = entries_in_order(desk.record.journey)
    coloured = _coloured_last(desk)
    found = []
    for number, entry in enumerate(ordered):
        until = ordered[number + 1].date if number + 1 < len(ordered) else desk.study.as_of
        past = coloured is not None and entry.date < coloured
        found.append(_entry(desk, entry, number + 1, desk.week(until), past))
    return tuple(found)


def _coloured_last(desk: Desk) -> date | None:
    """Day on which the colour of the leading place was laid; None without one."""
    fade = latest_fade(desk.study.fades, desk.study.leading)
    return fade.applied if fade else None


def _entry(desk: Desk, entry: Visit | CheckIn, number: int, until: float, past: bool) -> Entry:
    readings = shown_readings(desk, entry)
    return Entry(
        key=f"e{number}",
        when=desk.words.when(entry.date),
        is_visit=isinstance(entry, Visit),
        title=_title(desk, entry),
        words=_words(desk, entry),
        services=tuple(_service(desk, entry, one) for one in entry.services)
        if isinstance(entry, Visit)
        else (),
        pictures=_pictures(desk, entry),
        chips=tuple(_chip(desk, reading) for reading in readings),
        numbers=readings_table(
            desk, readings_of(desk, entry), unread_of(desk, entry), key=f"numbers-e{number}"
        ),
        spans=(desk.week(entry.date), until),
        facts=_facts(desk, entry),
        past=past,
    )


def readings_of(desk: Desk, entry: Visit | CheckIn) -> tuple[Reading, ...]:
    return tuple(reading for reading in desk.study.readings if reading.entry == entry.key)


def unread_of(desk: Desk, entry: Visit | CheckIn) -> tuple[UnreadPatch, ...]:
    return tuple(one for one in desk.study.unread if one.entry == entry.key)


def shown_readings(desk: Desk, entry: Visit | CheckIn) -> tuple[Reading, ...]:
    """One reading per place: the last stage of the day, soundest photo first."""
    best: dict[Place, Reading] = {}
    views = Counter(reading.view for reading in desk.study.readings)
    for reading in readings_of(desk, entry):
        old = best.get(reading.place)
        if old is None or _rank(reading, views) < _rank(old, views):
            best[reading.place] = reading
    ordered = [best[place] for place in desk.study.places if place in best]
    if desk.is_client and isinstance(entry, CheckIn):
        leading = [reading for reading in ordered if reading.place == desk.study.leading]
        others = [
            reading
            for reading in ordered
            if reading.place != desk.study.leading and reading.place.band == "ends"
        ]
        ordered = (leading + others)[:_PLACES_AT_HOME] or ordered[:_PLACES_AT_HOME]
    return tuple(ordered)


def _rank(reading: Reading, views: Counter[str]) -> tuple[int, int, bool, int, float]:
    """Last stage first, then the view that is taken most often, so that days can be compared by eye."""
    return (
        _STAGE_ORDER.index(reading.stage),
        -views[reading.view],
        reading.trend_only,
        len(reading.weak),
        reading.uncertainty.delta_e_90,
    )


def _chip(desk: Desk, reading: Reading) -> Chip:
    return desk.chip(reading.place, reading.body_lab, reading, f"reading.{reading.key}")


def crop_of(desk: Desk, reading: Reading) -> Picture | None:
    """The hair around a reading's patch; None where the photo may not be shown."""
    _, photo = desk.photo(reading.photo)
    if not desk.may_show(photo):
        return None
    place = desk.place(reading.place)
    return desk.pictures.around(
        photo,
        reading.rect,
        alt=desk.words.say("photo.crop-alt", place=place, colour=desk.colour(reading.body_lab)),
        caption=place,
    )


def contact_sheet(
    desk: Desk,
) -> tuple[tuple[When, tuple[tuple[str, Picture | None, Chip | None], ...]], ...]:
    """For each entry, every place in one order: the hair around the patch, and its colour."""
    sheet = []
    for entry in entries_in_order(desk.record.journey):
        by_place = {reading.place: reading for reading in shown_readings(desk, entry)}
        if not by_place:
            continue
        places: Sequence[Place] = tuple(by_place) if desk.is_client else desk.study.places
        row = tuple(
            (
                desk.place(place),
                crop_of(desk, by_place[place]) if place in by_place else None,
                _chip(desk, by_place[place]) if place in by_place else None,
            )
            for place in places
        )
        sheet.append((desk.words.when(entry.date), row))
    return tuple(sheet)


def _title(desk: Desk, entry: Visit | CheckIn) -> str:
    if isinstance(entry, Visit):
        return desk.gate.text("Visit.title", entry.title)
    return desk.words.say("entry.check-in")


def _words(desk: Desk, entry: Visit | CheckIn) -> str:
    """What this audience is told: her own words, the class's note, or all of it for the salon."""
    if isinstance(entry, CheckIn):
        return desk.gate.text("CheckIn.words", entry.words)
    parts = [desk.gate.text("Visit.words", entry.words), desk.gate.text("Visit.class_note", entry.class_note)]
    private = desk.gate.text("Visit.private_note", entry.private_note)
    if private:
        parts.append(f"*{desk.words.say('entry.private')}* {private}")
    return "\n\n".join(part for part in parts if part)


def _pictures(desk: Desk, entry: Visit | CheckIn) -> tuple[Picture, ...]:
    """Whole photos that may be shown; magnified ones have a figure of their own.

    A class gets the hair around each patch and no whole photo: its page shows none, and what no page shows
    does not leave.
    """
    if desk.is_class:
        return ()
    allowed = [photo for photo in entry.photos if desk.may_show(photo) and photo.magnified is None]
    if desk.is_client:
        allowed = sorted(allowed, key=lambda photo: _STAGE_ORDER.index(photo.moment))[:2]
    return tuple(whole(desk, entry, photo) for photo in allowed)


def whole(desk: Desk, entry: Visit | CheckIn, photo: Photo) -> Picture:
    caption = desk.gate.text("Photo.caption", photo.caption)
    view = desk.gate.text("Photo.view", photo.view)
    stage = desk.words.say(f"stage.{photo.moment}")
    return desk.pictures.whole(
        photo,
        alt=desk.words.say("photo.alt", view=view, stage=stage, when=desk.words.day(entry.date)),
        caption=caption or f"{view}, {stage}",
    )


def _service(desk: Desk, visit: Visit, service: Service) -> ServiceLine:
    where = desk.words.say(
        "service.where",
        zones=desk.words.listing([desk.zone(zone) for zone in service.zones]),
        band=desk.band(str(service.band)),
    )
    return ServiceLine(
        name=desk.gate.text("Service.name", service.name),
        where=where,
        facts=_service_facts(desk, service),
        bowl=bowl_card(desk, visit, service),
        seen=desk.gate.text("Service.seen", service.seen),
    )


def _service_facts(desk: Desk, service: Service) -> tuple[Fact, ...]:
    words, gate = desk.words, desk.gate
    facts: list[Fact] = []

    def add(name: str, text: str | None) -> None:
        if text:
            facts.append(Fact(words.say(f"service.{name}"), text))

    if (time := gate.value("Service.time", service.time)) is not None:
        add("time", words.minutes(round(time.minutes)))
    heat = gate.text("Service.heat", service.heat)
    add("heat", words.say("service.no-heat") if heat == "none" else heat)
    if (before := gate.value("Service.level_before", service.level_before)) is not None:
        add("level-before", words.number(before))
    if (level := gate.value("Service.to_level", service.to_level)) is not None:
        removal = service.kind is ServiceKind.COLOUR_REMOVAL
        add("level-after" if removal else "to-level", words.number(level))
    if (width := gate.value("Service.section_width", service.section_width)) is not None:
        add("sections", words.say("cm", cm=words.exact(width.cm)))
    seen = [one for one in service.levels_seen if gate.value("LevelSeen.level", one.level) is not None]
    add(
        "levels-seen",
        words.listing(
            [words.say("service.level-at", minutes=one.at.minutes, level=one.level) for one in seen]
        ),
    )
    if (cut := gate.value("Service.cut", service.cut)) is not None:
        add("cut", words.say("cm", cm=words.exact(cut.cm)))
    if (left := gate.value("Service.to_length", service.to_length)) is not None:
        add("to-length", words.say("cm", cm=words.exact(left.cm)))
    if (added := gate.value("Service.added_length", service.added_length)) is not None:
        add("added-length", str(added))
    if (fixed := gate.value("Service.fixed_at", service.fixed_at)) is not None:
        add("fixed-at", words.say("service.from-scalp", length=str(fixed)))
    if (pieces := gate.value("Service.pieces", service.pieces)) is not None:
        add("pieces", words.show(pieces))
    if (level := gate.value("Service.added_level", service.added_level)) is not None:
        add("added-level", words.exact(level))
    for name, written in (("soaked", service.soaked), ("covered", service.covered)):
        if (told := gate.value(f"Service.{name}", written)) is not None:
            add(name, words.show(told))
    if service.kind is ServiceKind.COLOUR_REMOVAL and service.with_developer is not None:
        add("with-developer", words.show(service.with_developer))
    if (checked := gate.value("Service.cross_checked", service.cross_checked)) is not None:
        add("cross-checked", words.show(checked))
    return tuple(facts)


def _facts(desk: Desk, entry: Visit | CheckIn) -> tuple[Fact, ...]:
    if not isinstance(entry, Visit):
        return ()
    words, facts = desk.words, []
    if entry.chair_time is not None:
        facts.append(Fact(words.say("entry.chair-time"), words.minutes(round(entry.chair_time.minutes))))
    if desk.audience is not Audience.CLIENT:
        for one in entry.conditions:
            place = desk.place(Place(one.zone, str(one.band)))
            told = felt(desk, one)
            if note := desk.gate.text("Condition.note", one.note):
                told.append(note)
            facts.append(
                Fact(
                    words.say("condition.label", place=place, stage=words.say(f"stage.{one.moment}")),
                    "; ".join(told),
                )
            )
    facts += _condition_facts(desk, entry)
    if desk.is_archive:
        stylist = next(one for one in desk.record.salon.stylists if one.key == entry.stylist)
        facts.append(
            Fact(words.say("entry.stylist"), reveal(stylist.name, because="the salon's own archive"))
        )
        for test in entry.tests:
            facts.append(
                Fact(
                    words.say(f"test.{test.kind}"),
                    words.say("test.line", day=test.on, result=words.say(f"test.result.{test.result}")),
                )
            )
        if entry.paid is not None:
            facts.append(Fact(words.say("entry.paid"), money(desk, float(entry.paid.amount))))
    return tuple(facts)


def felt(desk: Desk, one: Condition) -> list[str]:
    """What was felt of a strand, in words."""
    told = []
    if one.elasticity_wet_percent is not None:
        told.append(desk.words.say("condition.stretch", percent=one.elasticity_wet_percent))
    if one.porosity is not None:
        told.append(desk.words.say(f"condition.porosity.{one.porosity}"))
    return told


def _condition_facts(desk: Desk, visit: Visit) -> list[Fact]:
    """What was felt, turned into what it means: for her in plain words, the gravest alone."""
    if not desk.gate.may_derive("Condition.elasticity_wet_percent"):
        return []
    advised = [one for one in desk.study.conditions if one.entry == visit.key]
    return [
        Fact(
            desk.words.say("condition.means", place=desk.place(one.place)),
            " ".join(desk.because(advice.reason) for advice in (one.advice[:1] if desk.is_client else one.advice)),
        )
        for one in advised
        if one.advice
    ]


def before_and_now(desk: Desk) -> tuple[tuple[When, Picture], ...]:
    """The same view over time, one photo a day: the view that was taken most often of those that may be shown.

    On the client's page alone.
    """
    if not desk.is_client:
        return ()
    shown = [
        (entry, photo)
        for entry in entries_in_order(desk.record.journey)
        for photo in entry.photos
        if desk.may_show(photo) and photo.magnified is None
    ]
    views = [photo.view for _, photo in shown]
    if not views:
        return ()
    usual = max(sorted(set(views)), key=views.count)
    by_day: dict[str, tuple[Visit | CheckIn, Photo]] = {}
    for entry, photo in shown:
        if photo.view != usual:
            continue
        old = by_day.get(entry.key)
        if old is None or _STAGE_ORDER.index(photo.moment) < _STAGE_ORDER.index(old[1].moment):
            by_day[entry.key] = (entry, photo)
    return tuple((desk.words.when(entry.date), whole(desk, entry, photo)) for entry, photo in by_day.values())
