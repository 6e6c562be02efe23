"""The last net under a person's eyes: faces, names and codes in finished photos of a class edition."""

from __future__ import annotations

import io
from collections.abc import Sequence
from pathlib import Path

import numpy as np
import pytest
import zxingcpp
from PIL import Image, ImageDraw, ImageFont

from journey.audit import face_net, nets, photo_nets, print_net
from journey.audit.face_net import Face, FaceNet
from journey.audit.nets import NetBrokenError, PinnedModel
from journey.audit.photo_nets import (
    COVER_COLOUR,
    Cover,
    PhotoNets,
    Sighting,
    different_pictures,
    exposed,
    installed_nets,
    missing_nets,
)
from journey.audit.print_net import Code
from journey.audit.report import AuditReport, PhotoLook, audit_site
from journey.cache import NOT_KEPT, Cache, Shelf
from journey.compiling import outcome_lines
from journey.edition import photographs
from journey.edition.consent import Refusal
from journey.edition.photographs import encode_avif, encode_jpeg, remake
from journey.identifiers import Identifier, IdentifierKind
from journey.making import Making, Outcome, Task
from journey.record.model import Audience
from journey.record.photograph_intake import photograph_from
from journey.record.rectangle import Rectangle
from journey.site.theme import load_theme
from tests.demo import DEMO
from tests.edition_example import example_edition
from tests.faces import (
    ASTRONAUT_FACE,
    ASTRONAUT_HEAD,
    as_pixels,
    as_png,
    astronaut,
    backgrounds,
    pasted_at,
    small_faces,
)

NAME = Identifier(IdentifierKind.CLIENT, "Aurelia Winterbourne")
PHONE = Identifier(IdentifierKind.PHONE, "+34 612 345 677")
DAY = Identifier(IdentifierKind.DATE, "2026-03-07")


@pytest.fixture(scope="module")
def look() -> PhotoNets:
    """The nets are installed with what tests need: a net that tests never run would be a weak one."""
    found = installed_nets()
    assert not any("faces" in one or "codes" in one for one in missing_nets())
    return found


@pytest.fixture(scope="module")
def reads(look: PhotoNets) -> PhotoNets:
    """The reader of print does not exist for every Python yet."""
    pytest.importorskip("rapidocr_onnxruntime")
    assert missing_nets() == ()
    return look


@pytest.fixture(scope="module")
def net() -> FaceNet:
    """The one for faces alone."""
    return FaceNet()


def remade(picture: Image.Image, covers: Sequence[Rectangle]) -> bytes:
    """Written as the site writes it."""
    buffer = io.BytesIO()
    picture.save(buffer, "JPEG", quality=95)
    return encode_avif(remake(photograph_from(buffer.getvalue(), "p.jpg"), covers, 512))


def uncovered(look: PhotoNets, data: bytes, covers: Sequence[Cover] = ()) -> list[str]:
    return [one.kind for one in exposed(data, look.see(data), covers)]


@pytest.mark.parametrize("turn", [0, 90, 180, 270, 20])
@pytest.mark.parametrize("side", [128, 512])
def test_a_face_is_refused_however_it_hangs(look: PhotoNets, turn: int, side: int) -> None:
    """Upright, over a basin, on its side, askew; of 23 px and of 94 px."""
    picture = astronaut().rotate(turn, fillcolor=(90, 90, 90)).resize((side, side))
    assert uncovered(look, as_png(picture)) == ["face"]


def test_half_a_face_is_a_face(look: PhotoNets) -> None:
    """A cover over one half of it, over the eyes, over the mouth: declared or not, the rest is refused."""
    left, top, width, height = ASTRONAUT_FACE
    for half in (
        (left, top, width / 2, height),
        (left, top, width, height / 2),
        (left, top + height / 2, width, height / 2),
    ):
        picture = astronaut().copy()
        x, y, wide, tall = (round(512 * side) for side in half)
        picture.paste(COVER_COLOUR, (x, y, x + wide, y + tall))
        assert uncovered(look, as_png(picture), [half]) == ["face"]


def test_a_head_under_our_own_cover_is_accepted(look: PhotoNets) -> None:
    """Made and written as the site does; the same photo without the cover is refused."""
    cover = Rectangle(*ASTRONAUT_HEAD)
    assert uncovered(look, remade(astronaut(), [cover]), [ASTRONAUT_HEAD]) == []
    assert uncovered(look, remade(astronaut(), []), [ASTRONAUT_HEAD]) == ["face"]


def test_a_cover_counts_where_it_was_declared_and_is_solid() -> None:
    """Neither a grey card before a face nor a declared cover that was not filled hides anything."""
    grey = Image.new("RGB", (200, 200), COVER_COLOUR)
    noise = Image.fromarray(np.random.default_rng(1).integers(0, 256, (200, 200, 3), dtype=np.uint8))
    seen = Sighting(faces=(Face(0.4, 0.4, 0.2, 0.2, 0.9),))
    cover = (0.35, 0.35, 0.3, 0.3)
    assert list(exposed(as_png(grey), seen, [cover])) == []
    assert [one.kind for one in exposed(as_png(grey), seen, [])] == ["face"]
    assert [one.kind for one in exposed(as_png(grey), seen, [(0.0, 0.0, 0.1, 0.1)])] == ["face"]
    assert [one.kind for one in exposed(as_png(noise), seen, [cover])] == ["face"]


def test_the_cover_that_is_looked_for_is_the_one_that_is_made() -> None:
    """Edition and audit share no code, so their constants are compared."""
    assert photographs.COVER_COLOUR == COVER_COLOUR


def test_strangers_are_found_among_hair(net: FaceNet) -> None:
    """Ten of twelve faces of 25 px blown up, turned by odd angles, on drawn hair: no net finds all."""
    found = 0
    for number, face in enumerate(small_faces()[::9]):
        ground = backgrounds()[number]
        picture, box = pasted_at(face, ground, 40 + 12 * number, 90.0 * number + 15, number)
        x, y = box[0] + box[2] / 2, box[1] + box[3] / 2
        faces = net.faces(as_pixels(picture))
        found += any(
            one.left <= x <= one.left + one.width and one.top <= y <= one.top + one.height for one in faces
        )
    assert found >= 10


def test_hair_is_no_face(net: FaceNet) -> None:
    """Backs of heads, locks and fibres under a lens: no alarm; a face drawn in one of the demo's photos is one."""
    for ground in backgrounds()[::3]:
        assert net.faces(as_pixels(ground)) == ()
    with Image.open(DEMO / "photos" / "maribel-2026-02-28-threequarter.jpg") as photo:
        assert net.faces(as_pixels(photo)) != ()


def test_sizes_one_after_the_other_do_not_disturb_each_other(net: FaceNet) -> None:
    """OpenCV 4.14 gave nonsense once the size of its input had changed."""
    first = net.faces(as_pixels(astronaut()))
    for side in (300, 90, 700):
        net.faces(as_pixels(astronaut().resize((side, side))))
    blank = np.full((512, 512, 3), 128, dtype=np.uint8)
    assert net.faces(blank) == ()
    assert net.faces(as_pixels(astronaut())) == first
    assert len(first) == 1


def printed(words: str, *, turn: int = 0, mirrored: bool = False, size: int = 26) -> Image.Image:
    """A paper label on hair."""
    font = ImageFont.load_default(size)
    label = Image.new("RGB", (round(font.getlength(words)) + 30, size * 2), (240, 238, 232))
    ImageDraw.Draw(label).text((15, size // 2), words, fill=(30, 30, 40), font=font)
    picture = backgrounds()[2].resize((640, 640))
    picture.paste(label, (60, 400))
    picture = picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT) if mirrored else picture
    return picture.rotate(turn)


def audited(tmp_path: Path, look: PhotoNets, picture: Image.Image) -> list[str]:
    """What is told of a site with this photo in it, but for its lack of a page."""
    (tmp_path / "pictures").mkdir()
    (tmp_path / "pictures" / "p01-640.jpg").write_bytes(encode_jpeg(picture, quality=88))
    return [str(one) for one in report_on(tmp_path, look).findings if one.kind != "construction"]


def report_on(folder: Path, look: PhotoNets) -> AuditReport:
    see = PhotoLook(see=lambda name, data: look.see(data))
    return audit_site(folder, identifiers=(NAME, PHONE, DAY), photos=see)


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("Aurelia Winterbourne", "client"),
        ("A. WINTERBOURNE 11:00", "client"),
        ("call 612 345 677", "phone"),
        ("7 MAR", "date"),
    ],
)
@pytest.mark.parametrize("how", ["upright", "mirrored", "upside down"])
def test_print_that_names_her_is_refused(
    words: str, kind: str, how: str, reads: PhotoNets, tmp_path: Path
) -> None:
    """On a label, in a mirror, upside down; and the report does not repeat it."""
    picture = printed(words, mirrored=how == "mirrored", turn=180 if how == "upside down" else 0)
    told = audited(tmp_path, reads, picture)
    assert any(f"(read in the photo): {kind}" in one for one in told), told
    assert not any(words.lower() in one.lower() for one in told)


def test_print_that_names_nobody_is_let_through(reads: PhotoNets, tmp_path: Path) -> None:
    """A grey card's own words are read and are no finding."""
    picture = printed("GREY 18  WHITE 90  BLACK 4")
    assert any("GREY" in line for line in reads.see(as_png(picture)).lines)
    assert audited(tmp_path, reads, picture) == []


@pytest.mark.parametrize("mirrored", [False, True])
def test_a_square_code_is_refused_whatever_it_says(look: PhotoNets, tmp_path: Path, *, mirrored: bool) -> None:
    """An address of nobody: who follows it can still find out whose mirror it hangs on."""
    made = zxingcpp.create_barcode("https://example.org/abc", zxingcpp.BarcodeFormat.QRCode)
    code = Image.fromarray(np.asarray(zxingcpp.write_barcode_to_image(made, scale=5))).convert("RGB")
    picture = backgrounds()[2].resize((640, 640))
    picture.paste(code, (100, 100))
    picture = picture.transpose(Image.Transpose.FLIP_LEFT_RIGHT) if mirrored else picture
    assert any("a QR Code that can be read" in one for one in audited(tmp_path, look, picture))


def test_bars_on_a_tube_are_let_through_unless_they_say_something(look: PhotoNets, tmp_path: Path) -> None:
    """Every tube of colour has an EAN; a loyalty card's bars may be her number."""
    picture = backgrounds()[2].resize((640, 640))
    for says, top in (("4006381333931", 60), ("612345677", 340)):
        kind = zxingcpp.BarcodeFormat.EAN13 if len(says) == 13 else zxingcpp.BarcodeFormat.Code128
        bars = np.asarray(zxingcpp.write_barcode_to_image(zxingcpp.create_barcode(says, kind), scale=3))
        picture.paste(Image.fromarray(bars).convert("RGB"), (80, top))
    seen = look.see(as_png(picture))
    assert {(code.is_matrix, code.text) for code in seen.codes} == {(False, "4006381333931"), (False, "612345677")}
    told = audited(tmp_path, look, picture)
    assert told
    assert all("read in the photo" in one and "phone" in one for one in told)


@pytest.mark.parametrize("is_kept", [False, True])
def test_one_look_serves_all_sizes_unless_one_shows_something_else(is_kept: bool, tmp_path: Path) -> None:
    """A face that shows in the small size only is looked at, also when what was there before is kept."""
    shelf = Shelf(Cache.at(tmp_path / "kept"), ("a photo",))
    kept = shelf.remembered if is_kept else None
    large, small = astronaut(), astronaut().resize((240, 240))
    odd = small.copy()
    odd.paste(COVER_COLOUR, (60, 0, 150, 100))
    files = {
        "pictures/p01-512.avif": encode_avif(large),
        "pictures/p01-512.jpg": encode_jpeg(large),
        "pictures/p01-240.avif": encode_avif(small),
        "pictures/p02-512.avif": encode_avif(large),
    }
    for _ in range(2):
        assert different_pictures(files, kept) == ("pictures/p01-512.avif", "pictures/p02-512.avif")
    files["pictures/p01-240.avif"] = encode_avif(odd)
    assert "pictures/p01-240.avif" in different_pictures(files, kept)


def test_what_was_seen_can_be_kept() -> None:
    """As bytes and back."""
    seen = Sighting((Face(0.1, 0.2, 0.3, 0.4, 0.5),), ("añil",), (Code("QR Code", True, "x"),))
    assert Sighting.from_bytes(seen.as_bytes()) == seen


def test_what_lies_elsewhere_is_no_photo(tmp_path: Path, look: PhotoNets) -> None:
    """Pictures drawn from numbers are not looked at; photos are, one file for each."""
    for folder in ("pictures", "strands"):
        (tmp_path / folder).mkdir()
        (tmp_path / folder / "p01-512.jpg").write_bytes(encode_jpeg(astronaut()))
    report = report_on(tmp_path, look)
    assert list(report.sightings) == ["pictures/p01-512.jpg"]
    assert {one.kind for one in report.findings} == {"face", "construction"}, "no page leads to them"
    assert audit_site(tmp_path, identifiers=()).sightings == {}


@pytest.fixture
def package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An importable package with a model of three bytes."""
    folder = tmp_path / "a_net_of_ours"
    folder.mkdir()
    (folder / "__init__.py").write_text("raise RuntimeError('it must not be imported')\n")
    (folder / "model.onnx").write_bytes(b"abc")
    monkeypatch.syspath_prepend(str(tmp_path))
    return folder


# The digest of "abc", FIPS 180-4.
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_a_model_is_taken_only_when_it_is_the_one_that_was_tried(package: Path) -> None:
    """Another digest, no file, no package: each is said; the package itself is never imported."""
    model = PinnedModel("a_net_of_ours", "model.onnx", ABC)
    assert model.found() == package / "model.onnx"
    (package / "model.onnx").write_bytes(b"abd")
    with pytest.raises(NetBrokenError, match="another model"):
        model.found()
    (package / "model.onnx").unlink()
    with pytest.raises(NetBrokenError, match="without its model"):
        model.found()
    assert nets.package_folder("no_such_package_of_ours") is None


@pytest.mark.parametrize(("module", "name"), [(face_net, "MODEL"), (print_net, "MODELS")], ids=["faces", "print"])
def test_with_another_model_the_class_gets_no_photos(
    module: object, name: str, package: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An installed net that can not be run refuses the class edition; the others do not need it."""
    if module is print_net:
        pytest.importorskip("rapidocr_onnxruntime")
    wrong = PinnedModel("a_net_of_ours", "model.onnx", "0" * 64)
    monkeypatch.setattr(module, name, wrong if name == "MODEL" else (wrong,))
    monkeypatch.setattr("journey.making.installed_nets", PhotoNets)
    outcome = finished(Audience.CLASS, tmp_path / "to")
    assert outcome.site is None
    assert [one.where for one in outcome.findings] == ["nets"]
    assert not any((tmp_path / "to").iterdir())


def finished(audience: Audience, to: Path, shelf: Shelf = NOT_KEPT) -> Outcome:
    edition = example_edition(audience)
    assert not isinstance(edition, Refusal)
    task = Task(
        audience=audience,
        edition=edition,
        to=to,
        theme=load_theme(),
        shelf=shelf,
        must_not_appear=(),
        allowed_sentences=(),
        sign_offs=(),
    )
    with Making(None) as work:
        work.add(task)
        return work.finish()[audience]


def test_nets_are_loaded_for_a_picture_they_have_not_seen_and_for_no_other(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What they saw is kept with the picture; a broken net stops what it has to look at, not what it has seen."""
    loaded: list[bool] = []

    def load() -> PhotoNets:
        loaded.append(True)
        return installed_nets()

    shelf = Shelf(Cache.at(tmp_path / "kept"), ("a photo",))
    monkeypatch.setattr("journey.making.installed_nets", load)
    assert finished(Audience.CLASS, tmp_path / "to", shelf).site
    at_first = len(loaded)
    assert at_first > 0
    assert finished(Audience.CLASS, tmp_path / "to", shelf).site
    assert len(loaded) == at_first
    assert finished(Audience.CLASS, tmp_path / "to").site
    assert len(loaded) > at_first


class _SeesAFace:
    """A net that sees what is to be refused, wherever it looks."""

    def see(self, data: bytes) -> Sighting:
        return Sighting(faces=(Face(0.4, 0.4, 0.2, 0.2, 0.9),))


def test_a_face_in_a_class_photo_stops_the_class_edition_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is published; the client's own edition is not looked at."""
    monkeypatch.setattr("journey.making.installed_nets", _SeesAFace)
    outcome = finished(Audience.CLASS, tmp_path)
    assert outcome.site is None
    assert {one.kind for one in outcome.findings} == {"face"}
    assert not (tmp_path / "class").exists()
    assert finished(Audience.CLIENT, tmp_path).site == tmp_path / "client"


def test_a_net_that_fails_over_a_photo_stops_the_class_edition(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """For want of memory, say: it is told in a line, and nothing that was not looked at is published."""
    nets = PhotoNets()

    def fail(pixels: object) -> Sighting:
        raise MemoryError

    monkeypatch.setattr(nets, "_seen", fail)
    monkeypatch.setattr("journey.making.installed_nets", lambda: nets)
    outcome = finished(Audience.CLASS, tmp_path / "to")
    assert outcome.site is None
    assert "MemoryError" in str(outcome.findings[0])
    assert not (tmp_path / "to" / "class").exists()


def test_without_the_extras_it_says_that_nothing_was_looked_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Not installed is not refused, and not passed over in silence either."""
    for name in ("face_net_is_installed", "print_net_is_installed", "code_net_is_installed"):
        monkeypatch.setattr(photo_nets, name, lambda: False)
    monkeypatch.setattr("journey.making.installed_nets", PhotoNets)
    outcome = finished(Audience.CLASS, tmp_path)
    assert outcome.site == tmp_path / "class"
    said = "\n".join(line for line, _ in outcome_lines(outcome))
    for what in ("no net looked for faces", "no net looked for printed words", "no net looked for QR codes"):
        assert what in said
    assert "colour-journey[faces]" in said
    assert finished(Audience.CLIENT, tmp_path).not_looked_for == ()
