"""From a folder to its sites: read, study, prepare, write, audit, publish.

    folder ─read_record─▶ Record ─study_or_kept─▶ Study ─prepare_edition─▶ Edition ─Making─▶ site

This module decides the order and what happens when a step refuses; every step's own decisions stand in its
own module. Nothing here prints: progress is told to a `Progress`, results are returned, refusals raised.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Final

from journey.cache import NOT_KEPT, Cache, Shelf, default_folder
from journey.edition.consent import Refusal, ask_consent
from journey.edition.identifiers import must_not_appear
from journey.edition.model import Edition
from journey.edition.prepare import prepare_edition
from journey.edition.sign_off import NEEDS_SIGN_OFF, why_unsigned
from journey.edition.wording import Wording
from journey.making import Making, Outcome, Task
from journey.private_state import link_of, remember_photos, remember_site
from journey.record.intake import PhotoFolder
from journey.record.model import Audience, Record
from journey.record.parts import values_in
from journey.record.photo_files import damage_told, photo_hashes, refuse_bad_headers
from journey.record.reader import read_record
from journey.record.sign_offs import SignOff, read_sign_offs
from journey.site.derivatives import PicturesAhead
from journey.site.publish import unpublish
from journey.site.theme import Theme
from journey.site.writer import pictures_of
from journey.study.kept import study_or_kept
from journey.study.model import Study
from journey.withdrawing import TakenBack, act_on_withdrawals, without_withdrawn
from journey.work_folder import work_folder
from journey.workshop import Workshop

Progress = Callable[[str], None]
"""Told in a few words what is being done now."""


_LARGEST_FIRST: Final = (Audience.ARCHIVE, Audience.CLASS, Audience.CLIENT)
"""What takes longest is begun first."""


@dataclass(frozen=True, slots=True)
class Studied:
    """A folder read and understood, before anybody's eyes are considered."""

    folder: Path
    record: Record
    photographs: PhotoFolder
    study: Study
    sign_offs: tuple[SignOff, ...] = ()
    """Who vouched for what, in the order given."""


def study_folder(
    folder: Path,
    *,
    as_of: date | None = None,
    progress: Progress = lambda _: None,
    workshop: Workshop | None = None,
    first: Callable[[Record], None] = lambda _: None,
) -> Studied:
    """Read a folder and compute everything about it. Raises FolderProblems with every problem at once.

    `first` is done with the record once it reads, before anything is computed. A photo taken back from every
    edition is left out of the study.
    """
    progress("reading the folder")
    record = read_record(folder)
    first(record)
    sign_offs = read_sign_offs(folder, [stylist.key for stylist in record.salon.stylists])
    photographs = PhotoFolder(folder / "photos")
    as_of, left = as_of or record.last_day, without_withdrawn(record)
    refuse_bad_headers(left, folder, photographs)
    if workshop is not None and workshop.cache is not None:
        # Before anything made from one is kept: by this it is found again when she takes it back.
        remember_photos(folder, photo_hashes(left, photographs))
    with damage_told(left, folder):
        study = study_or_kept(left, photographs, as_of=as_of, progress=progress, workshop=workshop)
    return Studied(folder, record, photographs, study, sign_offs)


def prepare(
    studied: Studied,
    audience: Audience,
    *,
    today: date,
    theme: Theme,
    language: str | None = None,
    to_look_only: bool = False,
    shelf: Shelf = NOT_KEPT,
) -> Edition | Refusal:
    """The edition for one audience, or why there is none.

    `today` is the day consent is asked for. It is worded in `language`, the client's own unless given.
    `to_look_only` is for the eyes of the salon, and of the client who has to see the contact sheet before she
    can have seen it; such an edition is never published.
    """
    signed = {one.sheet for one in studied.sign_offs if one.edition is audience}
    sheets = signed if audience in NEEDS_SIGN_OFF else None
    permission = ask_consent(studied.record, audience, today, sheets=sheets, to_look_only=to_look_only)
    if isinstance(permission, Refusal):
        return permission
    spoken = language or studied.record.journey.language
    wording = Wording.load(theme.words, spoken, audience, studied.study.start)
    return prepare_edition(studied.record, studied.study, studied.photographs, permission, wording, shelf)


def compile_folder(
    folder: Path,
    *,
    audiences: Sequence[Audience],
    today: date,
    to: Path,
    theme: Theme,
    as_of: date | None = None,
    progress: Progress = lambda _: None,
    workshop: Workshop | None = None,
    on_withdrawal: Callable[[TakenBack], None] = lambda _: None,
) -> tuple[Outcome, ...]:
    """Make, audit and publish the editions of one folder; one outcome per audience, in the order given.

    An edition without consent is not made, and one that was published earlier is taken down. A site with
    audit findings is not published and the earlier one stays as it was. The `workshop` shares the work among
    its workers and spares what its cache kept; the sites are the same bytes with any and without.
    """
    with _with_cache(workshop or Workshop()) as shop:

        def act(record: Record) -> None:
            usual = default_folder()
            caches = (shop.cache, *([Cache.at(usual)] if usual.is_dir() else []))
            for one in act_on_withdrawals(record, folder, to=to, caches=caches, today=today):
                on_withdrawal(one)

        studied = study_folder(folder, as_of=as_of, progress=progress, workshop=shop, first=act)
        sources = tuple(sorted({facts.sha256 for facts in studied.photographs.known()}))
        left = without_withdrawn(studied.record)
        shelf = Shelf(shop.cache, sources)
        ahead = PicturesAhead(shop.cache, shop.executor)
        until = holds_until(studied.record, today)
        outcomes: dict[Audience, Outcome] = {}
        is_one = len(audiences) < 2
        with damage_told(left, folder), Making(None if is_one else shop.executor) as making:
            for audience in sorted(audiences, key=_LARGEST_FIRST.index):
                progress(f"preparing the {audience} edition")
                one = _planned(studied, audience, today=today, to=to, theme=theme, shelf=shelf)
                if isinstance(one, Outcome):
                    outcomes[audience] = one
                    continue
                ahead.begin(pictures_of(one.edition))
                making.add(one)
                if ahead.is_idle:
                    making.begin()
            ahead.finish(progress)
            progress("writing and auditing the sites")
            outcomes |= making.finish()
        done = [_remembered(folder, outcomes[audience]) for audience in audiences]
        return tuple(replace(outcome, holds_until=until) for outcome in done)


def holds_until(record: Record, today: date) -> date:
    """The last day before any day written in the record begins or is over: a consent may begin or end on it."""
    days = [day for day in values_in(record) if isinstance(day, date) and day < date.max]
    turns = [turn for day in days for turn in (day, day + timedelta(days=1)) if turn > today]
    return min(turns) - timedelta(days=1) if turns else date.max


def _planned(
    studied: Studied, audience: Audience, *, today: date, to: Path, theme: Theme, shelf: Shelf
) -> Task | Outcome:
    """What is to be written for one audience; or why nothing is, and without consent its site is taken down."""
    edition = prepare(studied, audience, today=today, theme=theme, shelf=shelf)
    if isinstance(edition, Refusal):
        unpublish(to / audience)
        return Outcome(audience=audience, site=None, why_not=edition.reasons)
    sign_offs = studied.sign_offs if audience in NEEDS_SIGN_OFF else ()
    if audience in NEEDS_SIGN_OFF:
        unsigned = why_unsigned(edition, sign_offs, studied.folder.name)
        if unsigned is not None:
            return Outcome(audience=audience, site=None, why_not=(unsigned,))
    # Before anything is written there: a run that is cut off leaves work behind.
    remember_site(studied.folder, audience, to / audience)
    canaries = must_not_appear(studied.record, audience)
    allowed = tuple(one.sentence for one in studied.record.journey.allowed_sentences)
    return Task(audience, edition, to, theme, shelf, canaries, allowed, sign_offs)


def _remembered(folder: Path, outcome: Outcome) -> Outcome:
    """Her page has a link."""
    if outcome.site is None:
        return outcome
    return replace(outcome, link=link_of(folder)) if outcome.audience is Audience.CLIENT else outcome


@contextmanager
def _with_cache(workshop: Workshop) -> Iterator[_Shop]:
    """With a cache for this run alone, where none is kept: three editions share what one of them made."""
    if workshop.cache is not None:
        yield _Shop(workshop.cache, workshop.executor)
        return
    with work_folder() as folder:
        yield _Shop(Cache.at(folder), workshop.executor)


@dataclass(frozen=True, slots=True)
class _Shop(Workshop):
    """A workshop whose cache is there."""

    cache: Cache
