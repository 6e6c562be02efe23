"""Whether a folder, and all that went into its sites, is as it was when they were made.

It decides what counts as a change: any file of the folder that is other, new or gone; another version of the tool,
its theme or an installed library; other options; a day on which consent began, ended or was withdrawn; a site that
is no longer where it was put. Files are compared by size, time and number (inode) of the file; only where these
differ is the content hashed. A site's own files are looked at from outside alone: its folder, its page and its
pictures' folder.

What was found is one private file per command line, in the cache's folder: losing it costs a build, no more. The
module is imported before anything else is known to be needed. It takes strings for paths and imports next to
nothing: `pathlib`, `json` or `hashlib` each cost as much as all of the looking.
"""

from __future__ import annotations

import os
import stat
import sys
import time

from journey.tool_version import tool_files, tool_version

_MAGIC = b"up to date 1"
_HEADER = 6
_FIELDS = 7
_YOUNG_NS = 2_000_000_000
"""A file written this shortly before the build may be written again without its time changing."""
NEVER = "9999-12-31"
STAYED = ("", "index.html", "pictures")
"""What of a site is looked at."""


class Stand:
    """How one client stood when it was made."""

    __slots__ = ("complained", "files", "hashes", "made_on", "said", "sites", "until")

    def __init__(
        self, files: str, hashes: str, sites: str, made_on: str, until: str, said: str, complained: str
    ) -> None:
        self.files = files
        """As `files_of` tells."""
        self.hashes = hashes
        """SHA-256 of each of the files, a line each."""
        self.sites = sites
        """As `sites_of` tells."""
        self.made_on = made_on
        """Year-month-day; empty when the day was given and not the real one."""
        self.until = until
        """The last day on which the sites would be the same."""
        self.said = said
        """What was told on standard output when they were made."""
        self.complained = complained
        """And on standard error."""

    def fields(self) -> tuple[str, ...]:
        return (self.files, self.hashes, self.sites, self.made_on, self.until, self.said, self.complained)


class Register:
    """What one command line made, client by client: of `folder`, with sites that go to `to`."""

    def __init__(self, arguments: list[str] | tuple[str, ...], folder: str = "", to: str = "") -> None:
        self.folder, self.to = folder, to
        self.arguments = "\0".join([os.getcwd(), *arguments])
        self.path = os.path.join(kept_folder(), "up-to-date", f"{_short(self.arguments):016x}")
        self.tool = ""
        self.stands: dict[str, Stand] = {}

    def load(self) -> bool:
        """Read what is there; False when there is nothing, or another tool made it."""
        try:
            with open(self.path, "rb") as file:
                parts = _unpacked(file.read())
        except OSError:
            return False
        if parts[:2] != [_MAGIC, self.arguments.encode("utf-8", "surrogateescape")] or len(parts) < _HEADER:
            return False
        known = parts[2].decode("utf-8", "surrogateescape")
        self.tool = tool_files_now()
        # The files of the tool may have been copied anew without being other files.
        if known != self.tool and parts[3].decode() != tool_version():
            return False
        self.folder, self.to = (part.decode("utf-8", "surrogateescape") for part in parts[4:_HEADER])
        step = _FIELDS + 1
        for at in range(_HEADER, len(parts) - _FIELDS, step):
            name, *fields = (part.decode("utf-8", "surrogateescape") for part in parts[at : at + step])
            self.stands[name] = Stand(*fields)
        return True

    def is_clean(self, folder: str) -> bool:
        """Whether this client's sites are still what would be made."""
        stand = self.stands.get(folder)
        if stand is None or not _same_day(stand) or sites_of(_places(stand.sites)) != stand.sites:
            return False
        now = files_of(folder, self.to)
        return now == stand.files or self._same_content(folder, stand, now)

    def _same_content(self, folder: str, stand: Stand, now: str) -> bool:
        """Hash what looks different; when it is not, remember how it looks now."""
        before, after = _rows(stand.files), _rows(now)
        hashes = stand.hashes.split("\n")
        if [row[0] for row in before] != [row[0] for row in after] or len(hashes) != len(before):
            return False
        for was, is_now, sha256 in zip(before, after, hashes, strict=True):
            if was != is_now and sha256_of(os.path.join(folder, is_now[0])) != sha256:
                return False
        stand.files = now
        self.add(folder, stand)
        return True

    def add(self, folder: str, stand: Stand) -> None:
        """Write down how a client stands, at once: a run that is cut off goes on from here."""
        self.stands[folder] = stand
        record = _packed([folder, *stand.fields()])
        try:
            if not os.path.exists(self.path):
                self.rewrite()
                return
            with open(self.path, "ab") as file:
                file.write(record)
        except OSError:
            return

    def keep_only(self, folders: list[str] | tuple[str, ...]) -> None:
        """Forget clients who are no longer there."""
        self.stands = {name: stand for name, stand in self.stands.items() if name in set(folders)}

    def rewrite(self) -> None:
        """Write all of it anew, each client once."""
        self.tool = self.tool or tool_files_now()
        header = [_MAGIC.decode(), self.arguments, self.tool, tool_version(), self.folder, self.to]
        everyone = [field for name, stand in self.stands.items() for field in (name, *stand.fields())]
        try:
            os.makedirs(os.path.dirname(self.path), mode=0o700, exist_ok=True)
            beside = f"{self.path}.{os.getpid()}"
            with open(os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
                file.write(_packed([*header, *everyone]))
            os.replace(beside, self.path)
        except OSError:
            return


def kept_folder() -> str:
    """Where things are kept between runs: `colour-journey` in the user's cache folder (XDG)."""
    given = os.environ.get("XDG_CACHE_HOME", "")
    base = given if given.startswith("/") else os.path.join(os.path.expanduser("~"), ".cache")
    return os.path.join(base, "colour-journey")


def files_of(folder: str, skip: str = "") -> str:
    """Every entry below a folder but `skip`: name, size, time and number, in one order."""
    found: list[str] = []
    waiting = [("", folder)]
    while waiting:
        inside, path = waiting.pop()
        try:
            entries = list(os.scandir(path))
        except OSError:
            found.append(f"{inside}\0unreadable\0\0")
            continue
        for entry in entries:
            name = f"{inside}/{entry.name}" if inside else entry.name
            if entry.is_dir(follow_symlinks=False):
                if entry.path != skip:
                    waiting.append((name, entry.path))
                continue
            facts = entry.stat(follow_symlinks=False)
            found.append(f"{name}\0{facts.st_size}\0{facts.st_mtime_ns}\0{facts.st_ino}")
    found.sort()
    return "\0".join(found)


def clients_in(folder: str) -> list[str]:
    """The client's folder itself, or those below that hold a journey.yaml, in the order of their names."""
    if os.path.exists(os.path.join(folder, "journey.yaml")):
        return [folder]
    try:
        names = sorted(os.listdir(folder))
    except OSError:
        return []
    below = [os.path.join(folder, name) for name in names if not name.startswith(".")]
    return [client for client in below if os.path.exists(os.path.join(client, "journey.yaml"))]


def sites_of(sites: list[str] | tuple[str, ...]) -> str:
    """Where these sites are, and which they are: for each its path, and what marks its folders and page."""
    found = []
    for site in sites:
        marks = []
        for part in STAYED:
            try:
                facts = os.stat(os.path.join(site, part) if part else site)
                marks.append(f"{facts.st_ino} {facts.st_mtime_ns} {facts.st_size}")
            except OSError:
                marks.append("none")
        found += [site, *marks]
    return "\0".join(found)


def stand_of(
    folder: str, skip: str, before: str, *, sites: list[str] | tuple[str, ...], made_on: str, until: str
) -> Stand | None:
    """How a client stands after a build that began when its files were as in `before`; None if they changed.

    What was said is for the caller to fill in.
    """
    if files_of(folder, skip) != before:
        return None
    rows = _rows(before)
    hashes = [sha256_of(os.path.join(folder, row[0])) for row in rows]
    if files_of(folder, skip) != before:
        return None
    youngest = time.time_ns() - _YOUNG_NS
    # Such a file is hashed the next time, whatever its time says.
    told = [[*row[:3], "young"] if row[2].isdigit() and int(row[2]) > youngest else row for row in rows]
    files = "\0".join("\0".join(row) for row in told)
    return Stand(files, "\n".join(hashes), sites_of(sites), made_on, until, "", "")


def tool_files_now() -> str:
    """Size, time and number of every file of the tool, and when something was last installed beside it."""
    found = [sys.version]
    for entry in tool_files():
        facts = entry.stat()
        found.append(f"{entry.path} {facts.st_size} {facts.st_mtime_ns} {facts.st_ino}")
    for folder in sys.path:
        if folder.endswith("-packages"):
            try:
                found.append(f"{folder} {os.stat(folder).st_mtime_ns}")
            except OSError:
                continue
    return "\n".join(found)


def sha256_of(path: str) -> str:
    """Of a plain file; empty for what is none."""
    import hashlib

    try:
        with open(os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK), "rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):
                return ""  # a device may never end
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""


def today() -> str:
    """The real day here, as year-month-day."""
    return time.strftime("%Y-%m-%d")


def _same_day(stand: Stand) -> bool:
    return not stand.made_on or stand.made_on <= today() <= stand.until


def _places(sites: str) -> list[str]:
    return sites.split("\0")[:: len(STAYED) + 1] if sites else []


def _rows(files: str) -> list[list[str]]:
    fields = files.split("\0")
    return [fields[at : at + 4] for at in range(0, len(fields) - 3, 4)]


def _short(text: str) -> int:
    """FNV-1a, 64 bits: names a file, proves nothing; the file says which command line it is for."""
    number = 0xCBF29CE484222325
    for byte in text.encode("utf-8", "surrogateescape"):
        number = (number ^ byte) * 0x100000001B3 & 0xFFFFFFFFFFFFFFFF
    return number


def _packed(texts: list[str] | tuple[str, ...]) -> bytes:
    """Each with its length before it."""
    parts = []
    for text in texts:
        data = text.encode("utf-8", "surrogateescape")
        parts.append(b"%d:%b" % (len(data), data))
    return b"".join(parts)


def _unpacked(data: bytes) -> list[bytes]:
    """What was packed; a torn end is left out."""
    parts, at = [], 0
    while (colon := data.find(b":", at, at + 12)) > 0:
        size = data[at:colon]
        end = colon + 1 + int(size) if size.isdigit() else len(data) + 1
        if end > len(data):
            break
        parts.append(data[colon + 1 : end])
        at = end
    return parts
