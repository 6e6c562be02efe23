"""Reads a finished site from its bytes and tells everything that must not leave.

    folder ─walk─▶ files ─▶ construction (`pages`, `images`)
                        ├─▶ views ─▶ canaries
                        └─▶ photos ─▶ nets (`photo_nets`) ─▶ canaries

It decides what is a finding; any finding means that the site is not published. It knows nothing of how the
site was made and shares no code with the filter, so that one mistake is not made twice. A report never
repeats what it found.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache, partial
from pathlib import Path
from typing import Final

from journey.audit.canaries import Canaries, Hit
from journey.audit.files import PICTURES, TEXTS, FoundFile, walk
from journey.audit.images import picture_findings
from journey.audit.pages import build_path_findings, drawing_findings, page_findings, style_findings
from journey.audit.photo_nets import Cover, Sighting, different_pictures, exposed, picture_name
from journey.audit.pieces import pieces
from journey.audit.views import View, deciphered, views_of
from journey.cache import Remembered
from journey.identifiers import Identifier

_CONSTRUCTION: Final = {"html": page_findings, "svg": drawing_findings, "css": style_findings}
_FIRST_PAGE: Final = "index.html"
_SHORTEST_IN_BYTES: Final = 6
"""Shorter values occur in compressed pixels by chance."""


@dataclass(frozen=True, slots=True, order=True)
class Finding:
    """One thing that must not leave."""

    file: str
    """Below the site's folder."""
    where: str
    """Which reading of the file: 'text', 'attribute alt', 'comment', 'file name', 'construction'."""
    kind: str
    """The identifier's kind, or 'construction', 'file', 'metadata'."""
    form: str
    """In which form, or what is wrong, in words."""
    excerpt: str
    """Told without repeating it; empty where there is nothing to tell."""

    def __str__(self) -> str:
        told = f": {self.excerpt}" if self.excerpt else ""
        return f"{self.file} ({self.where}): {self.kind}, {self.form}{told}"


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoLook:
    """How the photos of a site are to be looked at."""

    see: Callable[[str, bytes], Sighting]
    """Given a picture's name ('p01') and file."""
    covers: Mapping[str, Sequence[Cover]] = field(default_factory=dict)
    """What was declared to be hidden, by the picture's name."""
    folder: str = "pictures/"
    """Where photos lie; other pictures are drawn from numbers."""


_CLEAN = b"clean"
KnownEmpty = Callable[[View], bool]
"""Whether a view need not be read, because nothing can be read in it."""


@dataclass(frozen=True, slots=True)
class AuditReport:
    findings: tuple[Finding, ...]
    """In the order of the files."""
    files: int
    """How many were looked through."""
    sightings: Mapping[str, Sighting] = field(default_factory=dict)
    """What the nets saw, by the file they looked at: one for each picture. Private: it quotes print."""

    @property
    def is_clean(self) -> bool:
        return not self.findings


def audit_site(
    folder: Path,
    *,
    identifiers: Sequence[Identifier],
    allowed_phrases: Sequence[str] = (),
    fixed_time: int | None = None,
    photos: PhotoLook | None = None,
    remembered: Remembered | None = None,
) -> AuditReport:
    """Look through every byte of a finished site.

    Args:
        folder: the finished site, before it is published.
        identifiers: what must not appear for this audience.
        allowed_phrases: exact phrases in which a word that may be a name is none; they never excuse a
            declared value.
        fixed_time: the one time every file must bear; not looked at when None.
        photos: how to look at what photos show; not looked at when None.
        remembered: keeps that a file was clean, by all that was looked at and for; each is read when None.
    """
    canaries = Canaries(identifiers, allowed_phrases)
    sought = _sought(identifiers, allowed_phrases)
    found: dict[Finding, None] = {}
    files = 0
    shown: dict[str, bytes] = {}
    led_to = _LedTo()
    for file in walk(folder, fixed_time=fixed_time):
        files += bool(file.data)
        led_to.add(file)
        if not _known_clean(file, canaries, identifiers, sought, remembered):
            found.update(dict.fromkeys(_findings_of(file, canaries, identifiers)))
        if photos is not None and file.data and file.suffix in PICTURES and file.path.startswith(photos.folder):
            shown[file.path] = file.data
    found.update(dict.fromkeys(led_to.findings()))
    if not files:
        found.setdefault(Finding(".", "folder", "file", "there is no site to look through", ""))
    sightings: dict[str, Sighting] = {}
    if photos is not None:
        for path in different_pictures(shown, remembered):
            sightings[path] = photos.see(picture_name(path), shown[path])
            covers = photos.covers.get(picture_name(path), ())
            found.update(dict.fromkeys(_photo_findings(path, shown[path], sightings[path], covers, canaries)))
    return AuditReport(_without_repeats(list(found)), files, sightings)


def _sought(identifiers: Sequence[Identifier], allowed_phrases: Sequence[str]) -> str:
    """What is looked for, as part of a key."""
    return repr(([(str(one.kind), one.value) for one in identifiers], list(allowed_phrases)))


def _known_clean(
    file: FoundFile,
    canaries: Canaries,
    identifiers: Sequence[Identifier],
    sought: str,
    remembered: Remembered | None,
) -> bool:
    """Whether the same bytes under the same name were read before, for the same, and nothing was found."""
    if remembered is None or file.findings:
        return False

    def read() -> bytes:
        found = _findings_of(file, canaries, identifiers, partial(_known_empty, canaries, sought, remembered))
        return b"" if any(True for _ in found) else _CLEAN

    return remembered("audit", (file.path, file.data, sought), read) == _CLEAN


def _known_empty(canaries: Canaries, sought: str, remembered: Remembered, view: View) -> bool:
    """Whether nothing is read in any piece of a view: of a page of which one sentence changed few are new."""

    def clean(piece: str) -> bool:
        def read() -> bytes:
            alone = replace(view, text=piece)
            # All at once: mostly nothing is read in them, and only if there is, each is asked for it.
            rest = View(view.where, "\n".join(one.text for one in deciphered(alone)), is_prose=False)
            return b"" if any(True for one in (alone, rest) for _ in canaries.hits(one)) else _CLEAN

        how = f"{view.is_prose} {view.is_undone}"
        return remembered("audit of a piece", (piece, how, sought), read) == _CLEAN

    return all(map(clean, pieces(view.text)))


def _to_be_read(_: View) -> bool:
    return False


def audit_text(
    text: str, kind: str, canaries: Canaries, known_empty: KnownEmpty = _to_be_read
) -> Iterator[tuple[View, Hit]]:
    """What can be read in one text file, view by view."""
    for view in views_of(text, kind):
        if not known_empty(view):
            for one in (view, *deciphered(view)):
                for hit in canaries.hits(one):
                    yield one, hit


def _findings_of(
    file: FoundFile, canaries: Canaries, identifiers: Sequence[Identifier], known_empty: KnownEmpty = _to_be_read
) -> Iterator[Finding]:
    shown = file.path if file.path.isascii() and file.path.isprintable() else ascii(file.path)
    name_hits = [hit for _, hit in audit_text(file.path, "txt", canaries, known_empty)]
    if name_hits:
        # The name itself would repeat it.
        shown = f"a file in {shown.count('/')} folders"
    for wrong in file.findings:
        yield Finding(shown, "folder", "file", wrong, "")
    for hit in name_hits:
        yield Finding(shown, "file name", hit.kind, hit.form, hit.excerpt)
    if file.suffix in PICTURES and file.data:
        for wrong in picture_findings(file.data, file.suffix):
            yield Finding(shown, "construction", "metadata", wrong, "")
        yield from _byte_findings(file.data, shown, identifiers)
    if file.suffix in TEXTS and file.data:
        yield from _text_findings(file, shown, canaries, known_empty)


class _LedTo:
    """Whether a page or a style sheet names each file: what nobody is shown has no reason to leave."""

    def __init__(self) -> None:
        self._paths: list[str] = []
        self._named: list[bytes] = []

    def add(self, file: FoundFile) -> None:
        if file.data and file.path != _FIRST_PAGE:
            self._paths.append(file.path)
        if file.suffix in ("html", "css"):
            self._named.append(file.data)

    def findings(self) -> Iterator[Finding]:
        named = b"\n".join(self._named)
        lost = [path for path in self._paths if path.encode("utf-8", "surrogateescape") not in named]
        if lost:
            # By number: a name might be what was hidden.
            yield Finding(".", "folder", "construction", f"{len(lost)} files that no page leads to", "")


def _photo_findings(
    path: str, data: bytes, sighting: Sighting, covers: Sequence[Cover], canaries: Canaries
) -> Iterator[Finding]:
    for one in exposed(data, sighting, covers):
        yield Finding(path, "seen in the photo", one.kind, one.what, "")
    read = [*sighting.lines, *(code.text for code in sighting.codes)]
    for text in ("\n".join(read), " ".join(read)):
        for _, hit in audit_text(text, "txt", canaries):
            yield Finding(path, "read in the photo", hit.kind, hit.form, hit.excerpt)


def _text_findings(
    file: FoundFile, shown: str, canaries: Canaries, known_empty: KnownEmpty
) -> Iterator[Finding]:
    try:
        text = file.data.decode("utf-8")
    except UnicodeDecodeError:
        yield Finding(shown, "source", "file", "it is not UTF-8, so it can not be looked through", "")
        return
    for wrong in _CONSTRUCTION.get(file.suffix, build_path_findings)(text):
        yield Finding(shown, "construction", "construction", wrong, "")
    for view, hit in audit_text(text, file.suffix, canaries, known_empty):
        yield Finding(shown, view.where, hit.kind, hit.form, hit.excerpt)


def _byte_findings(data: bytes, shown: str, identifiers: Sequence[Identifier]) -> Iterator[Finding]:
    """Declared values as they are written, in the bytes of a picture."""
    low = data.lower()
    for identifier in identifiers:
        for encoding, wanted in _as_bytes(identifier.value):
            if wanted in low:
                yield Finding(shown, f"bytes as {encoding}", identifier.kind, "as written", "")


@lru_cache(maxsize=1024)
def _as_bytes(value: str) -> tuple[tuple[str, bytes], ...]:
    """How a value may stand in the bytes of a picture, in small letters."""
    written = ((encoding, value.encode(encoding, "ignore")) for encoding in ("utf-8", "utf-16-le", "utf-16-be"))
    return tuple((encoding, one.lower()) for encoding, one in written if len(one) >= _SHORTEST_IN_BYTES)


def _without_repeats(findings: list[Finding]) -> tuple[Finding, ...]:
    """The same value in the same form is told once per file, at the plainest place it was read."""
    told: dict[tuple[str, str, str, str], Finding] = {}
    for finding in findings:
        told.setdefault((finding.file, finding.kind, finding.form, finding.excerpt), finding)
    return tuple(told.values())
