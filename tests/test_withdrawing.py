"""One photo from consent to withdrawal: after it, nothing made from it is left anywhere."""

from __future__ import annotations

import base64
import hashlib
import io
import json
import os
import re
import shutil
import signal
import stat
import sys
import tempfile
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, UnidentifiedImageError

from journey import making
from journey.cache import Cache
from journey.edition.consent import Refusal
from journey.edition.model import Edition
from journey.pipeline import compile_folder, prepare, study_folder
from journey.private_state import link_of, sites_of, state_file
from journey.record.model import Audience
from journey.record.reader import read_record
from journey.record.withdrawn import WITHDRAWN_FILE, read_withdrawn
from journey.site.contact_sheet import largest_files, sheet_path
from journey.site.theme import load_theme
from journey.site.writer import write_site
from journey.vouching import show, vouch
from journey.withdrawing import TakenBack, act_on_withdrawals, without_withdrawn
from journey.workshop import Workshop
from tests.consenting_client import consenting_client, saw, take_back
from tests.demo import DEMO

GIVEN, TAKEN = date(2026, 5, 5), date(2026, 5, 12)
THEME = load_theme()
ALIKE = 0.97


class Client:
    """A folder, its sites, what is kept, and temporary files, all under one root."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.folder = consenting_client(root)
        self.to = root / "sites"
        self.workshop = Workshop(Cache.at(root / "cache"))
        self.taken: list[TakenBack] = []

    def compile(self, today: date, *audiences: Audience) -> dict[Audience, Path | None]:
        done = compile_folder(
            self.folder,
            audiences=audiences or tuple(Audience),
            today=today,
            to=self.to,
            theme=THEME,
            workshop=self.workshop,
            on_withdrawal=self.taken.append,
        )
        return {outcome.audience: outcome.site for outcome in done}

    def sign(self) -> str:
        studied = study_folder(self.folder)
        sheet = sheet_path(self.folder, Audience.CLASS)
        shown = show(studied, Audience.CLASS, today=GIVEN, theme=THEME, sheet=sheet)
        assert not isinstance(shown, Refusal)
        signed = vouch(studied, Audience.CLASS, by="lena", sheet=shown.code, today=GIVEN, theme=THEME)
        assert not isinstance(signed, Refusal)
        saw(self.folder, shown.code)
        return shown.code

    def everywhere(self) -> list[Path]:
        """Every file but the photos themselves, which stay hers and the salon's."""
        photos = self.folder / "photos"
        state = state_file(self.folder)
        found = [path for path in self.root.rglob("*") if path.is_file() and photos not in path.parents]
        return [*found, *([state] if state.exists() else [])]


@pytest.fixture
def client(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Client:
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(temporary))
    return Client(tmp_path)


def pictures_in(data: bytes) -> Iterator[Image.Image]:
    """Every picture in some bytes, wherever it begins: a file, a kept entry, an address that holds its data."""
    for found in re.finditer(rb"base64,([A-Za-z0-9+/=]{64,})", data):
        yield from pictures_in(base64.b64decode(found[1]))
    starts = [found.start() - 4 for found in re.finditer(rb"ftypavif", data)]
    starts += [found.start() for found in re.finditer(rb"\xff\xd8\xff|RIFF....WEBP|\x89PNG", data, re.DOTALL)]
    for start in starts:
        try:
            with Image.open(io.BytesIO(data[max(start, 0) :])) as image:
                image.load()
                yield image.convert("RGB")
        except (UnidentifiedImageError, OSError, SyntaxError):
            continue


def outline(image: Image.Image) -> np.ndarray:
    small = np.asarray(image.resize((24, 24), Image.Resampling.BOX), dtype=float)
    flat = (small - small.mean()).ravel()
    return flat / (np.linalg.norm(flat) or 1.0)


def traces(client: Client, sources: set[str], outputs: set[str], seen: list[np.ndarray]) -> dict[str, str]:
    """Files in which something of a photo is: its hash, a file made from it, or a picture that looks like it."""
    found: dict[str, str] = {}
    for path in client.everywhere():
        data = path.read_bytes()
        name = str(path.relative_to(path.parents[1]))
        if any(source.encode() in data for source in sources):
            found[name] = "hash of the source"
        if hashlib.sha256(data).hexdigest() in outputs:
            found[name] = "a file made from it"
        if any(float(outline(image) @ one) > ALIKE for image in pictures_in(data) for one in seen):
            found[name] = "looks like it"
    return found


def made_from(client: Client, photo: str) -> tuple[set[str], set[str], list[np.ndarray]]:
    """Hash of the source, hashes of files made, and what every picture of it looks like."""
    studied = study_folder(client.folder)
    sources = {studied.photographs.facts("home.jpg").sha256}
    outputs, seen = set(), []
    for audience in Audience:
        edition = prepare(studied, audience, today=GIVEN, theme=THEME, to_look_only=True)
        assert isinstance(edition, Edition)
        ours = [one for one in edition.leaving if one.name.startswith(f"{photo}/")]
        assert ours
        for file in largest_files(ours).values():
            with Image.open(io.BytesIO(file.data)) as image:
                seen.append(outline(image.convert("RGB")))
        with tempfile.TemporaryDirectory() as aside:
            named = write_site(edition, Path(aside) / "site", theme=THEME)
        for one in named.leaving:
            if not one.name.startswith(f"{photo}/"):
                continue
            assert one.picture is not None
            files = (client.to / audience / "pictures").glob(f"{one.picture.name}-*")
            outputs |= {hashlib.sha256(path.read_bytes()).hexdigest() for path in files}
    assert outputs
    return sources, outputs, seen


def test_one_photo_from_consent_to_withdrawal(client: Client) -> None:
    """Agreed, looked at, signed, published in three editions; taken back: no byte made from it in any site, old
    generation, kept thing, sheet, signature or temporary file; the rest is there again, under another link."""
    code = client.sign()
    elsewhere = client.root / "sheet elsewhere.html"
    show(study_folder(client.folder), Audience.CLASS, today=GIVEN, theme=THEME, sheet=elsewhere)
    assert all(site is not None for site in client.compile(GIVEN).values())
    link = link_of(client.folder)
    sources, outputs, seen = made_from(client, "at-home")
    before = traces(client, sources, outputs, seen)
    places = {name.split("/")[0] for name in before}
    assert "pictures" in places
    assert any(name.endswith("_sheet_class.html") for name in before)
    assert any(name.endswith(elsewhere.name) for name in before)
    assert [path for path in client.everywhere() if path.parent.parent.name == "cache"]
    assert "hash of the source" in before.values()

    take_back(client.folder, "photo: at-home")
    sites = client.compile(TAKEN)
    assert all(site is not None for site in sites.values()), "the rest is still allowed and signed"
    assert traces(client, sources, outputs, seen) == {}
    assert "at-home" not in (client.folder / "sign-off.jsonl").read_text(encoding="utf-8")
    assert code in (client.folder / "sign-off.jsonl").read_text(encoding="utf-8")

    assert [one.edition for one in client.taken] == list(Audience)
    assert sum(one.kept_deleted for one in client.taken) > 0
    assert link_of(client.folder) != link
    assert link not in state_file(client.folder).read_text(encoding="utf-8")
    told = {one.edition: one.to_tell for one in client.taken}
    assert told[Audience.CLIENT] == ("herself, by message (2026-05-01)",)
    assert told[Audience.CLASS] == ("evening course, eleven students (2026-05-02)",)


def test_a_withdrawal_cut_off_anywhere_is_finished_by_the_next_run(client: Client) -> None:
    """Killed before each of its changes to the disk in turn: the next run leaves no trace, and one proof each."""
    client.sign()
    client.compile(GIVEN)
    sources, outputs, _ = made_from(client, "at-home")
    take_back(client.folder, "photo: at-home")
    record, state = read_record(client.folder), state_file(client.folder).read_bytes()
    before = Path(shutil.copytree(client.root, client.root.with_name("before")))
    assert traces(client, sources, outputs, [])

    def act() -> None:
        cache = client.workshop.cache
        assert cache is not None
        act_on_withdrawals(record, client.folder, to=client.to, caches=[cache], today=TAKEN)

    killed, point = 0, 1
    while True:
        code = _killed_before_change(point, act)
        if code == 0:
            break
        assert code == -signal.SIGKILL
        killed += 1
        act()
        assert traces(client, sources, outputs, []) == {}, point
        proofs = read_withdrawn(client.folder)
        assert sorted(one.edition for one in proofs) == sorted(Audience), point
        shutil.rmtree(client.root)
        shutil.copytree(before, client.root)
        state_file(client.folder).write_bytes(state)
        point += 1 + point // 8
    assert killed > 15
    assert traces(client, sources, outputs, []) == {}


def _killed_before_change(number: int, work: Callable[[], None]) -> int:
    """How a child of this process ended that does the work, and is killed before so many changes to the disk."""
    child = os.fork()
    if not child:
        left = [number]

        def watch(event: str, arguments: tuple[object, ...]) -> None:
            writes = event == "open" and isinstance(arguments[2], int) and arguments[2] & os.O_ACCMODE
            if writes or event in {"os.remove", "os.rename", "os.rmdir", "os.mkdir", "os.truncate"}:
                left[0] -= 1
                if not left[0]:
                    os.kill(os.getpid(), signal.SIGKILL)

        try:
            sys.addaudithook(watch)
            work()
            os._exit(0)
        finally:
            os._exit(1)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def test_a_photo_exchanged_or_deleted_before_it_was_taken_back_is_purged_too(client: Client) -> None:
    """What was made from the earlier file goes as well; the photo may be gone, and the folder still reads."""
    client.compile(GIVEN)
    sources, outputs, seen = made_from(client, "at-home")
    photo = client.folder / "photos" / "home.jpg"
    Image.open(photo).transpose(Image.Transpose.ROTATE_180).save(photo, quality=90)
    client.compile(GIVEN, Audience.ARCHIVE)
    photo.unlink()
    take_back(client.folder, "photo: at-home")
    client.compile(TAKEN)
    assert traces(client, sources, outputs, seen) == {}
    assert len(read_withdrawn(client.folder)) == len(Audience)


def test_what_a_cut_off_run_left_goes_with_the_withdrawal(client: Client) -> None:
    """Work begun at a place where nothing was ever published, and a folder for one run's own cache."""
    sources, outputs, seen = set[str](), set[str](), list[np.ndarray]()
    elsewhere = client.root / "elsewhere"
    child = os.fork()
    if not child:
        client.to = elsewhere
        client.workshop = Workshop()
        _kill_when_a_site_is_about_to_be_published()
        client.compile(GIVEN, Audience.CLIENT)
        os._exit(1)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
    begun = (".client.new-", "colour-journey-work-")
    left = [path for path in client.root.rglob("*") if path.name.startswith(begun)]
    assert len(left) == 2
    sources = {study_folder(client.folder).photographs.facts("home.jpg").sha256}
    assert traces(client, sources, outputs, seen)
    take_back(client.folder, "photo: at-home")
    client.compile(TAKEN, Audience.CLIENT)
    assert not any(path.exists() for path in left)
    assert traces(client, sources, outputs, seen) == {}


def _kill_when_a_site_is_about_to_be_published() -> None:
    def kill(*_: object) -> None:
        os.kill(os.getpid(), signal.SIGKILL)

    making.publish = kill  # type: ignore[assignment]


def test_only_the_least_is_kept_as_proof(client: Client) -> None:
    """A random identity, the hash of the text, three days; acted upon once, and a later build adds nothing."""
    client.compile(GIVEN, Audience.CLIENT)
    take_back(client.folder, "edition: client")
    assert client.compile(TAKEN, Audience.CLIENT) == {Audience.CLIENT: None}
    lines = (client.folder / WITHDRAWN_FILE).read_text(encoding="utf-8").splitlines()
    assert len(lines) == 1
    assert set(json.loads(lines[0])) == {
        "id", "edition", "wording_sha256", "given_on", "withdrawn_on", "acted_on"
    }
    assert stat.S_IMODE((client.folder / WITHDRAWN_FILE).stat().st_mode) == 0o600
    link = link_of(client.folder)
    client.compile(TAKEN, Audience.CLIENT)
    assert len(client.taken) == 1
    assert len(read_withdrawn(client.folder)) == 1
    assert link_of(client.folder) == link


def test_an_edition_taken_back_goes_from_every_place_it_was_published(client: Client, tmp_path: Path) -> None:
    """Also from a place of an earlier build, and when the build asked for is that of another edition."""
    elsewhere = tmp_path / "elsewhere"
    for to in (elsewhere, client.to):
        client.to = to
        client.compile(GIVEN, Audience.CLIENT)
    assert (elsewhere / "client" / "index.html").exists()
    (client.to / ".client.new-cut-off").mkdir()
    take_back(client.folder, "edition: client")
    client.compile(TAKEN, Audience.ARCHIVE)
    assert not any(elsewhere.iterdir())
    assert sorted(path.name for path in client.to.iterdir()) == [".archive.site", "archive"]
    assert client.taken[0].places == tuple(sorted((elsewhere / "client", client.to / "client")))
    assert sites_of(client.folder, "client") == ()


def test_another_edition_keeps_what_was_not_taken_back(client: Client) -> None:
    """A photo taken back from the archive alone stays on her page, under the same link."""
    client.compile(GIVEN, Audience.CLIENT, Audience.ARCHIVE)
    link = link_of(client.folder)
    shown = len(list((client.to / "client" / "pictures").iterdir()))
    take_back(client.folder, "edition: archive", "photo: at-home")
    client.compile(TAKEN, Audience.CLIENT, Audience.ARCHIVE)
    assert len(list((client.to / "client" / "pictures").iterdir())) == shown
    assert len(list((client.to / "archive" / "pictures").iterdir())) < shown
    assert link_of(client.folder) == link


def test_with_a_whole_edition_goes_what_was_made_from_photos_it_did_not_show(client: Client) -> None:
    """She agreed to her page without any photo; what was computed of her from them is forgotten with it."""
    consent = client.folder / "consent.yaml"
    text = consent.read_text(encoding="utf-8")
    without = re.sub(r"(edition: client\n(?:    .*\n)*?    photos: )\[.*\]", r"\1[]", text)
    assert without != text
    consent.write_text(without, encoding="utf-8")
    assert client.compile(GIVEN, Audience.CLIENT)[Audience.CLIENT] is not None
    take_back(client.folder, "edition: client")
    client.compile(TAKEN, Audience.CLIENT)
    (taken,) = client.taken
    assert taken.kept_deleted > 0


def test_what_is_only_measured_can_be_found_again_too(client: Client) -> None:
    """`journey measure` keeps readings: by which files they were made is remembered before that."""
    study_folder(client.folder, workshop=client.workshop)
    photo = client.folder / "photos" / "home.jpg"
    photo.write_bytes(photo.read_bytes() + b"\0")
    take_back(client.folder, "photo: at-home")
    client.compile(TAKEN, Audience.CLIENT)
    assert sum(one.kept_deleted for one in client.taken) > 0


def test_a_withdrawal_that_is_not_yet_is_not_acted_upon(client: Client) -> None:
    """Written down for the tenth, nothing happens on the ninth."""
    take_back(client.folder, "photo: at-home")
    client.compile(date(2026, 5, 9), Audience.CLIENT)
    assert client.taken == []


def test_what_was_taken_back_from_every_edition_is_not_even_measured(client: Client) -> None:
    """No reading of it is in the study; a later yes brings it again."""
    take_back(client.folder, "photo: at-home")
    studied = study_folder(client.folder)
    assert {reading.photo for reading in studied.study.readings} == {"after"}
    record = read_record(client.folder)
    later = record.consent.grants[0].model_copy(update={"given_on": date(2026, 5, 11)})
    consent = record.consent.model_copy(update={"grants": (*record.consent.grants, later)})
    again = record.model_copy(update={"consent": consent})
    assert without_withdrawn(again) is again


def test_a_link_is_private_random_and_kept(client: Client) -> None:
    """128 bits, the same from build to build, in a file nobody else can read, in no site."""
    client.compile(GIVEN, Audience.CLIENT)
    link = link_of(client.folder)
    assert len(base64.urlsafe_b64decode(link + "==")) == 16
    assert link_of(client.folder) == link
    assert stat.S_IMODE(state_file(client.folder).stat().st_mode) == 0o600
    assert stat.S_IMODE(state_file(client.folder).parent.stat().st_mode) == 0o700
    assert not any(link.encode() in path.read_bytes() for path in client.to.rglob("*") if path.is_file())


def test_the_demo_was_acted_upon() -> None:
    """Its proof is in the folder, so that compiling it writes nothing there."""
    done = {(one.edition, one.photo, one.person, one.withdrawn_on) for one in read_withdrawn(DEMO)}
    withdrawals = read_record(DEMO).consent.withdrawals
    assert withdrawals
    assert done == {(one.edition, one.photo, one.person, one.on) for one in withdrawals}
