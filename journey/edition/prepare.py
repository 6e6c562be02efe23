"""Study and record to edition: what this audience may see, worded, and a ledger of what stayed behind.

Every text of the record passes the `Gate`; every photo is asked for in the permission. The parts of an edition
are prepared in modules of their own; here they are put together, and the ledger is closed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace

from journey.cache import NOT_KEPT, Shelf
from journey.edition.bowl_view import bowl_cards
from journey.edition.calendar_file import calendar_text
from journey.edition.caution_view import care_items, journey_cautions
from journey.edition.condition_view import condition_pairs
from journey.edition.consent import Permission
from journey.edition.desk import Desk
from journey.edition.entry_view import before_and_now, contact_sheet, entries
from journey.edition.fade_view import fade_figure
from journey.edition.fibre_view import fibre_figures
from journey.edition.gate import Gate, withheld_fields
from journey.edition.grade_view import between_places, grade_figure
from journey.edition.headlines import facts, refresh_words, today_chips, today_words
from journey.edition.hue_view import hue_figure
from journey.edition.identifiers import must_not_appear
from journey.edition.ladder_view import ladder_figure, levels_table, shades_in_words
from journey.edition.leaving import leaving_of
from journey.edition.method_view import about_lines, checklist, method_notes
from journey.edition.model import DataFile, Edition, Question, Table, Withheld
from journey.edition.option_table import options_table
from journey.edition.option_view import option_cards
from journey.edition.pictures import Pictures
from journey.edition.reading_table import fades_file, readings_file, readings_table
from journey.edition.removal_view import removal_figure
from journey.edition.strand_view import short_zone_tables, strand_rasters
from journey.edition.sum_files import layers_file, paths_file
from journey.edition.sums_of_colour import sums_of_colour
from journey.edition.sums_of_hair import sums_of_hair
from journey.edition.text_filter import CleanText, TextFilter
from journey.edition.touch_up_view import touch_up_table
from journey.edition.wording import Wording
from journey.identifiers import IdentifierKind
from journey.record.intake import PhotoFolder
from journey.record.model import Record
from journey.study.model import Study


@dataclass(slots=True)
class _Cleaner:
    """The text filter with its count of what it replaced."""

    text_filter: TextFilter
    replaced: Counter[str] = field(default_factory=Counter)
    _cleaned: dict[str, CleanText] = field(default_factory=dict)
    """A zone's name is asked for a thousand times and cleaned once."""

    def __call__(self, text: str) -> str:
        if text not in self._cleaned:
            self._cleaned[text] = self.text_filter.clean(text)
        clean = self._cleaned[text]
        for one in clean.withheld:
            self.replaced[one.kind] += one.count
        return clean.text


def prepare_edition(
    record: Record,
    study: Study,
    photographs: PhotoFolder,
    permission: Permission,
    words: Wording,
    shelf: Shelf = NOT_KEPT,
) -> Edition:
    """The edition of one audience. Raises what the text filter raises when a sentence needs a decision."""
    cleaner = _cleaner(record, permission, words, shelf)
    gate = Gate(permission.audience, cleaner)
    desk = Desk(record, study, permission, words, gate, Pictures(photographs))
    journey = record.journey
    strands = strand_rasters(desk)
    compared = before_and_now(desk)
    timeline = entries(desk)
    contact = contact_sheet(desk)
    fade, hue, grade = fade_figure(desk), hue_figure(desk), grade_figure(desk)
    ladder, fibres = ladder_figure(desk), fibre_figures(desk)
    care = care_items(desk)
    edition = Edition(
        audience=permission.audience,
        language=words.language,
        title=gate.text("Journey.title", journey.title),
        lead=gate.text("Journey.summary", journey.summary) or gate.text("Journey.goal", journey.goal),
        facts=facts(desk),
        as_of=words.when(study.as_of),
        strands=strands,
        today=today_chips(desk),
        today_words=today_words(desk),
        before_now=compared,
        refresh=refresh_words(desk),
        fade=fade,
        hue=hue,
        grade=grade,
        ladder=ladder,
        removal=removal_figure(desk),
        fibres=fibres,
        bowls=bowl_cards(desk),
        contact=contact,
        entries=timeline,
        care=care,
        cautions=journey_cautions(desk),
        options=option_cards(desk),
        options_table=options_table(desk),
        shades=shades_in_words(desk),
        tables=_tables(desk),
        questions=_questions(desk),
        method=method_notes(desk),
        condition_pairs=condition_pairs(desk),
        worked=() if desk.is_client else (*sums_of_colour(desk), *sums_of_hair(desk)),
        checklist=checklist(desk),
        data=_data(desk),
        calendar=calendar_text(desk, care),
        consent_lines=_consent_lines(desk),
        about=about_lines(desk),
        withheld=_ledger(desk, cleaner),
    )
    # Last, when everything has passed the gate.
    return replace(edition, leaving=leaving_of(desk))


def _cleaner(record: Record, permission: Permission, words: Wording, shelf: Shelf) -> _Cleaner:
    neutral = {kind: words.say(f"neutral.{kind.name.lower()}") for kind in IdentifierKind}
    week_of: Callable[..., str] | None = words.day
    identifiers = must_not_appear(record, permission.audience)
    allowed = {one.sentence: one.because for one in record.journey.allowed_sentences}
    return _Cleaner(
        TextFilter(identifiers, neutral_words=neutral, week_of=week_of, allowed_sentences=allowed, shelf=shelf)
    )


def _tables(desk: Desk) -> tuple[Table, ...]:
    """Table 1 is all measured colour; the client has her numbers beside each visit."""
    if desk.is_client:
        return ()
    table = readings_table(
        desk,
        desk.study.readings,
        desk.study.unread,
        key="readings",
    )
    places, touch_up = between_places(desk), touch_up_table(desk)
    found = (table, places, *short_zone_tables(desk), levels_table(desk), touch_up)
    return tuple(one for one in found if one is not None)


def _questions(desk: Desk) -> tuple[Question, ...]:
    gate, found = desk.gate, []
    for point in desk.record.journey.teaching:
        question = gate.text("TeachingPoint.question", point.question)
        if question:
            found.append(
                Question(
                    figure=point.figure,
                    question=question,
                    answer=gate.text("TeachingPoint.answer", point.answer),
                    choices=tuple(gate.text("TeachingPoint.choices", choice) for choice in point.choices),
                )
            )
    return tuple(found)


def _data(desk: Desk) -> tuple[DataFile, ...]:
    if desk.is_client:
        return ()
    layers = layers_file(desk)
    files = (readings_file(desk), fades_file(desk), paths_file(desk))
    return files if layers is None else (*files, layers)


def _consent_lines(desk: Desk) -> tuple[str, ...]:
    """History of consent, for the salon alone."""
    if not desk.is_archive:
        return ()
    words, consent = desk.words, desk.record.consent
    lines = [
        words.say(
            "consent.grant",
            edition=words.say(f"audience.{grant.edition}"),
            given=grant.given_on,
            expires=grant.expires_on,
            method=words.say(f"consent.method.{grant.method.replace(' ', '-')}"),
            n=float(len(grant.photos)),
            sha=next(one.sha256 for one in consent.wordings if one.key == grant.wording)[:12],
        )
        for grant in consent.grants
    ]
    lines += [
        words.say(
            "consent.withdrawal",
            on=one.on,
            edition=words.say(f"audience.{one.edition}") if one.edition else words.say("audience.all"),
            what=words.say("consent.one-photo") if one.photo else words.say("consent.whole"),
        )
        for one in consent.withdrawals
    ]
    return tuple(lines)


def _withheld_fields(desk: Desk) -> Iterator[Withheld]:
    """One line for all fields that stay behind for the same reason."""
    by_reason: dict[str, list[tuple[str, int]]] = {}
    for path, count, why in withheld_fields(desk.record, desk.audience):
        by_reason.setdefault(why, []).append((path, count))
    for why, fields in by_reason.items():
        yield Withheld(
            desk.words.say("ledger.fields", n=float(len(fields))),
            sum(count for _, count in fields),
            desk.words.phrase(why),
            tuple(fields),
        )


def _ledger(desk: Desk, cleaner: _Cleaner) -> tuple[Withheld, ...]:
    """What stayed behind, how often and why: fields, words replaced, photos, covers."""
    words = desk.words
    lines = [
        Withheld(
            words.say("ledger.replaced", kind=words.say(f"kind.{kind}")),
            count,
            words.say("ledger.identifies"),
        )
        for kind, count in sorted(cleaner.replaced.items())
    ]
    lines += _withheld_fields(desk)
    photos = desk.record.journey.photos
    granted = desk.permission.photos
    withdrawn = desk.permission.withdrawn_photos
    others = desk.permission.others_say_no
    reasons = {
        "ledger.photo-withdrawn": sum(photo.key in withdrawn for photo in photos),
        "ledger.photo-not-granted": sum(photo.key not in granted | withdrawn | others for photo in photos),
        "ledger.photo-of-others": sum(photo.key in others for photo in photos),
        "ledger.photo-not-looked-at": sum(
            photo.key in granted and not desk.may_show(photo) for photo in photos
        ),
        "ledger.covers": sum(len(photo.covers) for photo in photos if desk.may_show(photo)),
    }
    lines += [
        Withheld(words.say(key), count, words.say(f"{key}-why")) for key, count in reasons.items() if count
    ]
    lines.append(Withheld(words.say("ledger.metadata"), len(photos), words.say("ledger.metadata-why")))
    return tuple(lines)
