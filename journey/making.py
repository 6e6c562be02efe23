"""Editions made: each is written and audited in a folder beside its site, and published once all of them passed.

It decides when an edition is begun and what stops it. What an edition is and what the audit looks for is decided
elsewhere.
"""

from __future__ import annotations

from concurrent.futures import Executor, Future, wait
from contextlib import ExitStack
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Self

from journey.audit.nets import NetBrokenError
from journey.audit.photo_nets import Sighting, installed_nets, missing_nets
from journey.audit.report import Finding, PhotoLook, audit_site
from journey.cache import NOT_KEPT, Cache, Shelf
from journey.edition.model import Edition, Withheld
from journey.identifiers import Identifier
from journey.record.model import Audience
from journey.record.sign_offs import SignOff
from journey.site.looks import unlike_signed
from journey.site.publish import FIXED_TIME, publish, settle, staging_folder
from journey.site.theme import Theme
from journey.site.writer import pictures_of, write_site


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
class Task:
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


class Making:
    """The sites of one folder, in work. Use as a context: its folders are cleared away at the end.

    An error over one of them, a photo that turns out damaged perhaps, leaves all sites as they were.
    """

    def __init__(self, executor: Executor | None) -> None:
        self._executor = executor
        self._folders = ExitStack()
        self._work: list[tuple[Task, Path]] = []
        self._begun: list[Future[Outcome]] = []

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        try:
            # Nobody may still write in a folder that is cleared away. Cancelling would not do: a cluster goes on.
            wait(self._begun)
        finally:
            self._folders.close()

    def add(self, task: Task) -> None:
        """To be made; its pictures are being made already, perhaps."""
        self._work.append((task, self._folders.enter_context(staging_folder(task.target))))

    def begin(self) -> None:
        """Let the workers make what was added, while the next edition is prepared."""
        if self._executor is not None:
            waiting = self._work[len(self._begun) :]
            self._begun += [self._executor.submit(made, *one) for one in waiting]

    def finish(self) -> dict[Audience, Outcome]:
        """Every edition written and audited, and only then those published that passed."""
        self.begin()
        each = [one.result() for one in self._begun] if self._begun else [made(*one) for one in self._work]
        for (task, staging), outcome in zip(self._work, each, strict=True):
            if outcome.site is not None:
                publish(staging, task.target)
        return {outcome.audience: outcome for outcome in each}


def made(task: Task, staging: Path) -> Outcome:
    """One edition written into an empty folder and audited there, ready to be published."""
    audience, is_looked_at = task.audience, task.audience is Audience.CLASS
    edition = write_site(task.edition, staging, theme=task.theme, shelf=task.shelf)
    settle(staging)
    strange = unlike_signed(edition, task.sign_offs, staging / "pictures", task.shelf) if task.sign_offs else ()
    if strange:
        return Outcome(audience=audience, site=None, why_not=strange)
    try:
        report = audit_site(
            staging,
            identifiers=task.must_not_appear,
            fixed_time=FIXED_TIME,
            allowed_phrases=task.allowed_sentences,
            photos=_photo_look(edition, task.shelf.cache) if is_looked_at else None,
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
        not_looked_for=missing_nets() if is_looked_at else (),
    )


def _nets_broken(audience: Audience, reason: str) -> Outcome:
    """Somebody relies on an installed net: a photo it has not seen yet is refused, never waved through."""
    return Outcome(
        audience=audience,
        site=None,
        why_not=("its photos can not be looked at; the earlier site stays as it was",),
        findings=(Finding("pictures", "nets", "photos", reason, ""),),
    )


def _photo_look(edition: Edition, cache: Cache | None) -> PhotoLook:
    """The nets over an edition's photos; what they saw is kept with what else was made from each photo.

    They are loaded over the first picture that they have not seen.
    """
    pictures = {picture.name: picture for picture in pictures_of(edition)}

    def see(name: str, data: bytes) -> Sighting:
        shelf = Shelf(cache, (pictures[name].photo,)) if name in pictures else NOT_KEPT
        return Sighting.from_bytes(
            shelf.remembered("what the nets see", [data], lambda: installed_nets().see(data).as_bytes())
        )

    return PhotoLook(see=see, covers={name: picture.covered for name, picture in pictures.items()})
