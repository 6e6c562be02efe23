"""From a folder to its sites: read, study, prepare, write, audit, publish.

    folder ─read_record─▶ Record ─study_record─▶ Study ─prepare_edition─▶ Edition ─write_site─▶ site

This module decides the order and what happens when a step refuses; every step's own decisions stand in its
own module. Nothing here prints: progress is told to a `Progress`, results are returned, refusals raised.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor, wait
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from pathlib import Path

from pydantic import BaseModel

from journey.audit.nets import NetBrokenError
from journey.audit.photo_nets import PhotoNets, Sighting, installed_nets
from journey.audit.report import Finding, PhotoLook, audit_site
from journey.cache import NOT_KEPT, Cache, Shelf, default_folder
from journey.edition.consent import Refusal, ask_consent
from journey.edition.identifiers import must_not_appear
from journey.edition.model import Edition, Withheld
from journey.edition.prepare import prepare_edition
from journey.edition.sign_off import NEEDS_SIGN_OFF, why_unsigned
from journey.edition.wording import Wording
from journey.identifiers import Identifier
from journey.private_state import link_of, remember_photos, remember_site
from journey.record.intake import PhotoFolder
from journey.record.model import Audience, Record
from journey.record.photo_files import damage_told, photo_hashes, refuse_bad_headers
from journey.record.reader import read_record
from journey.record.sign_offs import SignOff, read_sign_offs
from journey.site.derivatives import PicturesAhead
from journey.site.looks import unlike_signed
from journey.site.publish import FIXED_TIME, publish, settle, staging_folder, unpublish
from journey.site.theme import Theme
from journey.site.writer import pictures_of, write_site
from journey.study.assemble import study_record
from journey.study.model import Study
from journey.withdrawing import TakenBack, act_on_withdrawals, without_withdrawn
from journey.work_folder import work_folder
from journey.workshop import Workshop

Progress = Callable[[str], None]
"""Told in a few words what is being done now."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What became of one edition."""

    audience: Audience
    site: Path | None
    """Where it is; None when it was not made."""
    why_not: tuple[str, ...] = ()
    withheld: tuple[Withheld, ...] = ()
    findings: tuple[Finding, ...] = ()
    """What the audit found, when that is why it was not published."""
    link: str = ""
    """Of her own page: under which name nobody can guess it is put on the web."""
    holds_until: date = date.max
    """The last day on which it would be the same, if nothing is written in the meantime."""
    not_looked_for: tuple[str, ...] = ()
    """What no net looked for in its photos, where one could have."""


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
    with damage_told(left, folder):
        study = study_record(left, photographs, as_of=as_of, progress=progress, workshop=workshop)
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
        remember_photos(folder, photo_hashes(left, studied.photographs))
        shelf = Shelf(shop.cache, sources)
        ahead = PicturesAhead(shop.cache, shop.executor)
        until = holds_until(studied.record, today)
        planned: list[_Task | Outcome] = []
        with damage_told(left, folder):
            for audience in audiences:
                progress(f"preparing the {audience} edition")
                one = _planned(studied, audience, today=today, to=to, theme=theme, shelf=shelf)
                if isinstance(one, _Task):
                    ahead.begin(pictures_of(one.edition))
                planned.append(one)
            ahead.finish(progress)
            progress("writing and auditing the sites")
            done = [_remembered(folder, outcome) for outcome in _finished(planned, shop.executor)]
        return tuple(replace(outcome, holds_until=until) for outcome in done)


def holds_until(record: Record, today: date) -> date:
    """The last day before any day written in the record begins or is over: a consent may begin or end on it."""
    turns = [turn for day in _days_in(record) for turn in (day, day + timedelta(days=1)) if turn > today]
    return min(turns) - timedelta(days=1) if turns else date.max


def _days_in(part: object) -> Iterator[date]:
    if isinstance(part, date):
        yield part if part < date.max else date.min
    elif isinstance(part, BaseModel):
        for _, value in part:
            yield from _days_in(value)
    elif isinstance(part, tuple | list):
        for value in part:
            yield from _days_in(value)


@dataclass(frozen=True, slots=True)
class _Task:
    """One edition to be written and audited. May be sent to another process.

    The record itself is not: its private values refuse to travel.
    """

    audience: Audience
    edition: Edition
    to: Path
    theme: Theme
    shelf: Shelf
    must_not_appear: tuple[Identifier, ...] = field(repr=False)
    allowed_sentences: tuple[str, ...]
    sign_offs: tuple[SignOff, ...] = field(repr=False)
    """Where somebody has to vouch: who did, for what."""

    @property
    def target(self) -> Path:
        """Where readers look."""
        return self.to / self.audience


def _planned(
    studied: Studied, audience: Audience, *, today: date, to: Path, theme: Theme, shelf: Shelf
) -> _Task | Outcome:
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
    return _Task(audience, edition, to, theme, shelf, canaries, allowed, sign_offs)


def _finished(planned: Sequence[_Task | Outcome], executor: Executor | None) -> list[Outcome]:
    """Every edition written and audited, and only then those published that passed.

    So an error over one of them, a photo that turns out damaged perhaps, leaves all sites as they were.
    """
    tasks = [one for one in planned if isinstance(one, _Task)]
    with ExitStack() as stack:
        work = [(task, stack.enter_context(staging_folder(task.target))) for task in tasks]
        made = _each_made(work, executor)
        for (task, staging), outcome in zip(work, made, strict=True):
            if outcome.site is not None:
                publish(staging, task.target)
    in_turn = iter(made)
    return [next(in_turn) if isinstance(one, _Task) else one for one in planned]


def _each_made(work: Sequence[tuple[_Task, Path]], executor: Executor | None) -> list[Outcome]:
    if executor is None or len(work) < 2:
        return [_made(*one) for one in work]
    futures = [executor.submit(_made, *one) for one in work]
    # All of them, also when one fails: nobody may still write in a folder that is cleared away.
    wait(futures)
    return [future.result() for future in futures]


def _made(task: _Task, staging: Path) -> Outcome:
    """One edition written into an empty folder and audited there, ready to be published."""
    audience, edition = task.audience, task.edition
    try:
        nets = installed_nets() if audience is Audience.CLASS else None
    except NetBrokenError as broken:
        return _nets_broken(audience, str(broken))
    edition = write_site(edition, staging, theme=task.theme, shelf=task.shelf)
    settle(staging)
    strange = unlike_signed(edition, task.sign_offs, staging / "pictures") if task.sign_offs else ()
    if strange:
        return Outcome(audience=audience, site=None, why_not=strange)
    try:
        report = audit_site(
            staging,
            identifiers=task.must_not_appear,
            fixed_time=FIXED_TIME,
            allowed_phrases=task.allowed_sentences,
            photos=None if nets is None else _photo_look(edition, nets, task.shelf.cache),
            remembered=task.shelf.remembered,
        )
    except NetBrokenError as broken:
        return _nets_broken(audience, str(broken))
    if report.findings:
        return Outcome(
            audience=audience,
            site=None,
            why_not=("the audit found what must not leave; the earlier site stays as it was",),
            findings=tuple(report.findings),
        )
    return Outcome(
        audience=audience,
        site=task.target,
        withheld=edition.withheld,
        not_looked_for=nets.missing if nets is not None else (),
    )


def _nets_broken(audience: Audience, reason: str) -> Outcome:
    """Somebody relies on an installed net: without it photos for a class are refused, never waved through."""
    return Outcome(
        audience=audience,
        site=None,
        why_not=("its photos can not be looked at; the earlier site stays as it was",),
        findings=(Finding("pictures", "nets", "photos", reason, ""),),
    )


def _photo_look(edition: Edition, nets: PhotoNets, cache: Cache | None) -> PhotoLook:
    """The nets over an edition's photos; what they saw is kept with what else was made from each photo."""
    pictures = {picture.name: picture for picture in pictures_of(edition)}

    def see(name: str, data: bytes) -> Sighting:
        shelf = Shelf(cache, (pictures[name].photo,)) if name in pictures else Shelf()
        return Sighting.from_bytes(
            shelf.remembered("what the nets see", [data], lambda: nets.see(data).as_bytes())
        )

    return PhotoLook(see=see, covers={name: picture.covered for name, picture in pictures.items()})


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
