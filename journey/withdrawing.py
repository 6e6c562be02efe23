"""Acting on consent that was taken back, before anything else is done with a folder.

It decides what goes: every site of the editions concerned with its old generations, everything kept that was made
from the photos concerned, the contact sheet, what their signatures looked like, and the link of her page. Then
the edition is made anew without them, if anything of it is still allowed. What is kept is the proof that it was
done. Copies somebody saved can not be called back: whoever was given one is listed, to be told.
"""

from __future__ import annotations

import hashlib
import secrets
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from journey.cache import Cache
from journey.private_state import forget_hashes, forget_sites, hashes_of, renew_link, sheet_of, sites_of
from journey.record.model import Audience, Grant, Photo, Record, Withdrawal
from journey.record.photograph_intake import LIMIT_BYTES
from journey.record.private import reveal
from journey.record.safe_files import FileRefusedError, read_inside
from journey.record.sign_offs import forget_photos
from journey.record.withdrawn import Proof, add_withdrawn, read_withdrawn
from journey.site.contact_sheet import sheet_path
from journey.site.publish import unpublish
from journey.work_folder import sweep_work_folders


@dataclass(frozen=True, slots=True, kw_only=True)
class TakenBack:
    """One withdrawal of one edition, acted upon now."""

    edition: Audience
    photo: str | None
    """None: all of the edition."""
    places: tuple[Path, ...]
    """Where a site was taken down."""
    kept_deleted: int
    """How many kept things were deleted."""
    link_renewed: bool
    to_tell: tuple[str, ...]
    """Who was given a copy or the link, and when."""

    def lines(self) -> list[str]:
        """What was done and what is left to do, for the person at the keyboard."""
        return [
            f"taken back: {self.photo or 'everything'} in the {self.edition} edition",
            *(f"  taken down: {place}; where it was copied to, take it down too" for place in self.places),
            f"  {self.kept_deleted} kept things made from it deleted",
            *(["  her page has a new link; nothing may stay at the old address"] if self.link_renewed else []),
            *(f"  to be told: {who}" for who in self.to_tell),
            "  copies somebody saved can not be called back",
        ]


def act_on_withdrawals(
    record: Record,
    folder: Path,
    *,
    to: Path,
    caches: Sequence[Cache],
    today: date,
) -> tuple[TakenBack, ...]:
    """Act on each withdrawal of the record that was not acted upon before, in the order written.

    Raises NotOurFolderError when a site is to be taken down where something else stands.
    """
    done = {(one.edition, one.photo, one.person, one.withdrawn_on) for one in read_withdrawn(folder)}
    acted = []
    for withdrawal in record.consent.withdrawals:
        for edition in (withdrawal.edition,) if withdrawal.edition is not None else tuple(Audience):
            grant = _taken_back(record, withdrawal, edition)
            fresh = (edition, withdrawal.photo, withdrawal.person, withdrawal.on) not in done
            if grant is None or not fresh or withdrawal.on > today:
                continue
            photos = _photos(record, withdrawal, grant)
            acted.append(_act(record, folder, withdrawal, edition, photos, to=to, caches=caches))
            add_withdrawn(folder, [_proof(record, withdrawal, edition, grant, today)])
    return tuple(acted)


def without_withdrawn(record: Record) -> Record:
    """The record without the photos she took back from every edition: not even their colours are read."""
    gone = {
        one.photo
        for one in record.consent.withdrawals
        if one.photo is not None and one.edition is None and one.person is None and not _granted_since(record, one)
    }
    if not gone:
        return record

    def left(photos: tuple[Photo, ...]) -> tuple[Photo, ...]:
        return tuple(
            photo.model_copy(update={"lamp_from": None}) if photo.lamp_from in gone else photo
            for photo in photos
            if photo.key not in gone
        )

    journey = record.journey
    visits = tuple(one.model_copy(update={"photos": left(one.photos)}) for one in journey.visits)
    check_ins = tuple(one.model_copy(update={"photos": left(one.photos)}) for one in journey.check_ins)
    kept = journey.model_copy(update={"visits": visits, "check_ins": check_ins})
    return record.model_copy(update={"journey": kept})


def _granted_since(record: Record, withdrawal: Withdrawal) -> bool:
    return any(
        grant.given_on > withdrawal.on and withdrawal.photo in grant.photos for grant in record.consent.grants
    )


def _taken_back(record: Record, withdrawal: Withdrawal, edition: Audience) -> Grant | None:
    """The latest yes it takes back, hers or another person's; None when there was none."""
    if withdrawal.person is None:
        given = record.consent.grants
    else:
        people = {person.key: person.grants for person in record.consent.other_people}
        given = people.get(withdrawal.person, ())
    grants = [
        grant
        for grant in given
        if grant.edition is edition
        and grant.given_on <= withdrawal.on
        and withdrawal.photo in (None, *grant.photos)
    ]
    return max(grants, key=lambda grant: grant.given_on, default=None)


def _photos(record: Record, withdrawal: Withdrawal, grant: Grant) -> list[Photo]:
    wanted = {withdrawal.photo} if withdrawal.photo is not None else set(grant.photos)
    return [photo for photo in record.journey.photos if photo.key in wanted]


def _act(
    record: Record,
    folder: Path,
    withdrawal: Withdrawal,
    edition: Audience,
    photos: Sequence[Photo],
    *,
    to: Path,
    caches: Sequence[Cache],
) -> TakenBack:
    standing = {(to / edition).resolve(), *sites_of(folder, edition)}
    places = tuple(place for place in sorted(standing) if place.is_dir())
    for place in sorted(standing):
        unpublish(place)
    for sheet in sorted({sheet_path(folder, edition), *sites_of(folder, sheet_of(edition))}):
        if _is_a_page(sheet):
            sheet.unlink(missing_ok=True)
    forget_sites(folder, edition)
    forget_photos(folder, edition, {photo.key for photo in photos})
    # With a whole edition goes what was made from photos that it did not show: its texts, what was computed.
    made_from = photos if withdrawal.photo is not None else record.journey.photos
    sources = {source for photo in made_from for source in _sources(folder, photo)}
    deleted = sum(cache.purge(source) for cache in caches for source in sorted(sources))
    sweep_work_folders()
    forget_hashes(folder, {photo.key for photo in photos})
    if edition is Audience.CLIENT:
        renew_link(folder)
    return TakenBack(
        edition=edition,
        photo=withdrawal.photo,
        places=places,
        kept_deleted=deleted,
        link_renewed=edition is Audience.CLIENT,
        to_tell=tuple(
            f"{reveal(one.who, because='to tell them that consent was taken back')} ({one.on})"
            for one in record.consent.recipients
            if one.edition is edition
        ),
    )


def _is_a_page(sheet: Path) -> bool:
    """What stands at a remembered place may be another file by now, and is somebody's."""
    try:
        return sheet.is_file() and not sheet.is_symlink() and sheet.read_bytes()[:15].lower() == b"<!doctype html>"
    except OSError:
        return False


def _sources(folder: Path, photo: Photo) -> Iterator[str]:
    """Hashes of every file the photo has had; the one it has now need be no photo, nor be there any more."""
    yield from hashes_of(folder, photo.key)
    with suppress(FileRefusedError):
        yield hashlib.sha256(read_inside(folder / "photos", photo.file, limit_bytes=LIMIT_BYTES)).hexdigest()


def _proof(
    record: Record, withdrawal: Withdrawal, edition: Audience, grant: Grant, today: date
) -> Proof:
    hashes = {wording.key: wording.sha256 for wording in record.consent.wordings}
    return Proof(
        id=secrets.token_hex(16),
        edition=edition,
        photo=withdrawal.photo,
        person=withdrawal.person,
        wording_sha256=hashes[grant.wording],
        given_on=grant.given_on,
        withdrawn_on=withdrawal.on,
        acted_on=today,
    )
