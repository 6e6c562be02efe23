"""What the tool remembers of a client's folder and no site may hold: the link of her page, and where sites stand.

It decides where that lies: one file per folder, for this user alone, in the user's state folder (XDG), outside the
folder (which may be read-only, or handed on) and outside every site. A folder that is moved is another one: it
gets a new link, and the sites it published before are only found where they are published again.

The link is 128 random bits, as the W3C TAG's 'Good Practices for Capability URLs' asks for at least. Whoever has
it can open the page, and so can whoever reads a log or a history it stands in: a site of plain files can not ask
who is there. So it is renewed when consent is taken back, and nothing at the old address may stay.
"""

from __future__ import annotations

import fcntl
import hashlib
import json
import os
import secrets
from collections.abc import Callable, Collection, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from journey.errors import JourneyError

LINK_BYTES: Final = 16
_PRIVATE_FOLDER: Final = 0o700
_PRIVATE_FILE: Final = 0o600


class StateError(JourneyError):
    """What has to be remembered can not be, or was damaged."""


@dataclass(frozen=True, slots=True)
class State:
    link: str = ""
    """Last part of the address of her page; empty until there is one."""
    sites: tuple[tuple[str, str], ...] = ()
    """(edition, place) of every site published from this folder, or begun."""
    photos: tuple[tuple[str, str], ...] = ()
    """(key, SHA-256) of every file a photo has had: what was made from an earlier one is found by it."""


def state_folder() -> Path:
    """`colour-journey` in the user's state folder: XDG_STATE_HOME, else ~/.local/state."""
    given = os.environ.get("XDG_STATE_HOME", "")
    base = Path(given) if given.startswith("/") else Path.home() / ".local" / "state"
    return base / "colour-journey"


def state_file(folder: Path) -> Path:
    """Where the state of a client's folder lies."""
    name = hashlib.sha256(os.fsencode(folder.resolve())).hexdigest()[:32]
    return state_folder() / f"{name}.json"


def state_of(folder: Path) -> State:
    """What is remembered; an empty state when nothing is. Raises StateError when it can not be understood."""
    path = state_file(folder)
    try:
        written = json.loads(path.read_text(encoding="utf-8"))
        sites = tuple((str(edition), str(place)) for edition, place in written["sites"])
        photos = tuple((str(key), str(sha256)) for key, sha256 in written.get("photos", ()))
        return State(str(written["link"]), sites, photos)
    except FileNotFoundError:
        return State()
    except (OSError, ValueError, KeyError, TypeError):
        raise StateError(f"{path} is damaged; delete it: her page then gets a new link") from None


def link_of(folder: Path) -> str:
    """The link of her page, made when there is none."""
    return _changed(folder, lambda state: replace(state, link=state.link or _new_link())).link


def renew_link(folder: Path) -> str:
    """Another link; the old one is forgotten."""
    return _changed(folder, lambda state: replace(state, link=_new_link())).link


def remember_site(folder: Path, edition: str, place: Path) -> None:
    """A site was published there."""
    found = (edition, str(place.resolve()))
    _changed(folder, lambda state: replace(state, sites=tuple(sorted({*state.sites, found}))))


def sheet_of(edition: str) -> str:
    """Under which name the places of an edition's contact sheets are remembered."""
    return f"{edition} sheet"


def sites_of(folder: Path, edition: str) -> tuple[Path, ...]:
    """Every place where this edition was published and not taken down since."""
    return tuple(Path(place) for known, place in state_of(folder).sites if known == edition)


def forget_sites(folder: Path, edition: str) -> None:
    """No site and no contact sheet of this edition stands any more."""
    gone = (edition, sheet_of(edition))
    _changed(folder, lambda state: replace(state, sites=tuple(one for one in state.sites if one[0] not in gone)))


def remember_photos(folder: Path, hashes: Mapping[str, str]) -> None:
    """The files photos have now, beside those they had before."""
    _changed(folder, lambda state: replace(state, photos=tuple(sorted({*state.photos, *hashes.items()}))))


def hashes_of(folder: Path, photo: str) -> tuple[str, ...]:
    """SHA-256 of every file the photo of that key has had."""
    return tuple(sha256 for key, sha256 in state_of(folder).photos if key == photo)


def forget_hashes(folder: Path, photos: Collection[str]) -> None:
    """Nothing made from these photos is left to be found."""
    _changed(
        folder, lambda state: replace(state, photos=tuple(one for one in state.photos if one[0] not in photos))
    )


def _new_link() -> str:
    return secrets.token_urlsafe(LINK_BYTES)


def _changed(folder: Path, change: Callable[[State], State]) -> State:
    with _locked():
        before = state_of(folder)
        after = change(before)
        if after != before:
            _write(state_file(folder), after)
        return after


def _write(path: Path, state: State) -> None:
    new = path.with_suffix(".new")
    new.unlink(missing_ok=True)
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | os.O_NOFOLLOW | os.O_CLOEXEC
    with os.fdopen(os.open(new, flags, _PRIVATE_FILE), "w", encoding="utf-8") as file:
        json.dump({"link": state.link, "sites": state.sites, "photos": state.photos}, file)
        file.flush()
        os.fsync(file.fileno())
    new.replace(path)


@contextmanager
def _locked() -> Iterator[None]:
    folder = state_folder()
    try:
        folder.mkdir(mode=_PRIVATE_FOLDER, parents=True, exist_ok=True)
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
    except OSError as error:
        raise StateError(f"{folder}: nothing can be remembered here ({error.strerror})") from None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)
