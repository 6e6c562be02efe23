"""From a folder to its sites: read, study, prepare, write, audit, publish.

    folder ─read_record─▶ Record ─study_record─▶ Study ─prepare_edition─▶ Edition ─write_site─▶ site

This module decides the order and what happens when a step refuses; every step's own decisions stand in its
own module. Nothing here prints: progress is told to a `Progress`, results are returned, refusals raised.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from journey.audit.report import Finding, audit_site
from journey.edition.consent import Refusal, ask_consent
from journey.edition.identifiers import must_not_appear
from journey.edition.model import Edition, Withheld
from journey.edition.prepare import prepare_edition
from journey.edition.wording import Wording
from journey.record.intake import PhotoFolder
from journey.record.model import Audience, Record
from journey.record.reader import read_record
from journey.site.publish import FIXED_TIME, publish, settle, staging_folder, unpublish
from journey.site.theme import Theme
from journey.site.writer import write_site
from journey.study.assemble import study_record
from journey.study.model import Study

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


@dataclass(frozen=True, slots=True)
class Studied:
    """A folder read and understood, before anybody's eyes are considered."""

    folder: Path
    record: Record
    photographs: PhotoFolder
    study: Study


def study_folder(folder: Path, *, as_of: date | None = None, progress: Progress = lambda _: None) -> Studied:
    """Read a folder and compute everything about it. Raises FolderProblems with every problem at once."""
    progress("reading the folder")
    record = read_record(folder)
    photographs = PhotoFolder(folder / "photos")
    study = study_record(record, photographs, as_of=as_of or record.last_day, progress=progress)
    return Studied(folder, record, photographs, study)


def prepare(
    studied: Studied, audience: Audience, *, today: date, theme: Theme, language: str | None = None
) -> Edition | Refusal:
    """The edition for one audience, or why there is none. `today` is the day consent is asked for.

    It is worded in `language`, the client's own unless given.
    """
    permission = ask_consent(studied.record, audience, today)
    if isinstance(permission, Refusal):
        return permission
    wording = Wording.load(theme.words, language or studied.record.journey.language, audience, studied.study.start)
    return prepare_edition(studied.record, studied.study, studied.photographs, permission, wording)


def compile_folder(
    folder: Path,
    *,
    audiences: Sequence[Audience],
    today: date,
    to: Path,
    theme: Theme,
    as_of: date | None = None,
    progress: Progress = lambda _: None,
) -> tuple[Outcome, ...]:
    """Make, audit and publish the editions of one folder; one outcome per audience, in the order given.

    An edition without consent is not made, and one that was published earlier is taken down. A site with
    audit findings is not published and the earlier one stays as it was.
    """
    studied = study_folder(folder, as_of=as_of, progress=progress)
    return tuple(
        _make_edition(studied, audience, today=today, to=to, theme=theme, progress=progress)
        for audience in audiences
    )


def _make_edition(
    studied: Studied, audience: Audience, *, today: date, to: Path, theme: Theme, progress: Progress
) -> Outcome:
    target = to / audience
    progress(f"preparing the {audience} edition")
    edition = prepare(studied, audience, today=today, theme=theme)
    if isinstance(edition, Refusal):
        unpublish(target)
        return Outcome(audience=audience, site=None, why_not=edition.reasons)
    with staging_folder(target) as staging:
        progress(f"writing the {audience} site")
        write_site(edition, staging, theme=theme)
        settle(staging)
        progress(f"auditing the {audience} site")
        report = audit_site(
            staging, identifiers=must_not_appear(studied.record, audience), fixed_time=FIXED_TIME
        )
        if report.findings:
            return Outcome(
                audience=audience,
                site=None,
                why_not=("the audit found what must not leave; the earlier site stays as it was",),
                findings=tuple(report.findings),
            )
        publish(staging, target)
    return Outcome(audience=audience, site=target, withheld=edition.withheld)
