"""The demo client's invented weeks hold together, and her photographs carry what they are said to carry."""

import dataclasses
import io
import json
import shutil
import subprocess
from datetime import timedelta
from itertools import pairwise
from pathlib import Path

import colour
import numpy as np
import pytest
from PIL import ExifTags, Image, ImageCms

from tests.demo_pictures import metadata, scenario
from tests.demo_pictures.cards import CHART_SHAPE, chart_boxes, chart_linear, colour_chart, homography
from tests.demo_pictures.exposure import SALON, TO_P3, TUNGSTEN, develop, sensor_matrix
from tests.demo_pictures.fibres import SLIDES
from tests.demo_pictures.icc import display_p3_profile
from tests.demo_pictures.pictures import decode_photo, encode_photo, taken_at
from tests.demo_pictures.readings import crop, find_box, linear_srgb_of, measure
from tests.demo_pictures.scenario import BY_KEY, STATES, remaining_share
from tests.demo_pictures.shots import SHOTS
from tests.demo_pictures.srgb import encode, lab_of_linear
from tests.demo_pictures.truth import TRUTH_FILE, fragment, table_of_states

PHOTOS = Path(__file__).parents[2] / "demo_client" / "photos"
PLANTED = (
    metadata.CLIENT, metadata.STYLIST, metadata.SALON, metadata.STREET, metadata.TOWN, metadata.TELEPHONE,
    metadata.SALON_PHONE.make, metadata.SALON_PHONE.serial,
)  # fmt: skip


def hue_degrees(lab: tuple[float, float, float]) -> float:
    return float(np.degrees(np.arctan2(lab[2], lab[1])) % 360)


def chroma(lab: tuple[float, float, float]) -> float:
    return float(np.hypot(lab[1], lab[2]))


def small_picture() -> np.ndarray:
    rng = np.random.default_rng(4)
    scene = np.full((60, 80, 3), 0.18, np.float32)
    scene[10:30, 10:40] = (0.5, 0.1, 0.09)
    return develop(scene, rng, SALON)


# ---- the scenario


def test_states_run_forward_in_time() -> None:
    """The table is dated in order and no state is listed twice."""
    assert [s.day for s in STATES] == sorted(s.day for s in STATES)
    assert len(BY_KEY) == len(STATES)


@pytest.mark.parametrize("bowl", sorted(scenario.FADE))
def test_colour_only_fades_by_washing(bowl: str) -> None:
    """Between services the remaining share falls week by week, from one, and stays above its floor."""
    laid = scenario.LIGHTENED
    for band, (_, floor) in scenario.FADE[bowl].items():
        weeks = [remaining_share(bowl, band, laid, laid + timedelta(weeks=w)) for w in range(30)]
        assert weeks[0] == 1.0
        assert all(later < earlier for earlier, later in pairwise(weeks))
        assert weeks[-1] > floor


@pytest.mark.parametrize("bowl", sorted(scenario.FADE))
def test_ends_lose_colour_before_mid_lengths(bowl: str) -> None:
    """Four weeks on, the ends have less left than the mid-lengths."""
    laid = scenario.LIGHTENED
    later = laid + timedelta(weeks=4)
    assert remaining_share(bowl, "ends", laid, later) < remaining_share(bowl, "mid-lengths", laid, later)


def test_share_after_ten_washes_by_hand() -> None:
    """q after a known number of washes is floor + (1 - floor) exp(-k n), worked by hand."""
    # Mid-lengths of the violet, four weeks at three washes: 0.07 + 0.93 exp(-0.84) = 0.4715.
    q = remaining_share("violet", "mid-lengths", scenario.VIOLET, scenario.LAST_VISIT)
    assert q == pytest.approx(0.4715, abs=5e-5)


def test_removal_leaves_less_than_before_and_more_in_its_residue() -> None:
    """Colour removal takes colour out, more at the ends; the patches it missed hold more than the rest."""
    before = dict(BY_KEY["2026-05-09 home"].band("mid-lengths").shares)
    removed = BY_KEY["2026-05-16 colour removed"]
    mids, ends = dict(removed.band("mid-lengths").shares), dict(removed.band("ends").shares)
    assert removed.residue is not None
    residue = dict(removed.residue.shares)
    for bowl in ("coral rose", "rose gloss"):
        assert ends[bowl] < mids[bowl] < residue[bowl] < before[bowl]


def test_nape_is_natural_once_its_colour_is_cut_off() -> None:
    """Clipped to 6 mm and coloured on 7 March, the nape is all natural from 4 April on."""
    assert dict(BY_KEY["2026-03-07 after"].nape.shares) == {"coral rose": 1.0}
    assert dict(BY_KEY["2026-04-04 before"].nape.shares)["coral rose"] < 1
    natural = [s for s in STATES if s.key >= "2026-04-04 after" and s.moment != "before"]
    natural = [s for s in natural if s.day >= scenario.GLOSS]
    assert natural
    for state in natural:
        assert state.key == "2026-04-04 before" or (state.nape.substrate, state.nape.shares) == (
            "natural 5",
            (),
        )
    grown = scenario.growth_mm(scenario.LIGHTENED, scenario.GLOSS)
    assert grown > scenario.NAPE_CLIPPED_MM, "the clippers must pass below the colour"


def test_stretches_cover_the_strand_without_gaps() -> None:
    """Each strand is described from the scalp to the tip, each stretch beginning where the last ended."""
    for state in STATES:
        assert state.strand[0].from_mm == 0
        for upper, lower in pairwise(state.strand):
            assert upper.to_mm == pytest.approx(lower.from_mm)
        assert state.strand[-1].to_mm is None
        assert state.strand[-1].from_mm < state.length_mm


def test_lengths_follow_growth_and_trims() -> None:
    """26 cm at first; a month adds 12 mm; 10, 20 and 12 mm are cut off."""
    assert BY_KEY["2026-03-07 after"].length_mm == 260
    for before, after, cut in (("04-04", "04-04", 10), ("04-25", "04-25", 20), ("06-13", "06-13", 12)):
        difference = BY_KEY[f"2026-{before} before"].length_mm - BY_KEY[f"2026-{after} after"].length_mm
        assert difference == pytest.approx(cut)
    new_growth = BY_KEY["2026-04-25 before"].strand[0]
    assert (new_growth.part, new_growth.substrate) == ("new growth", "natural 5")
    assert new_growth.to_mm == pytest.approx(20, abs=1.0), "2 cm of new growth in seven weeks"


def test_hue_never_passes_through_blue_or_green() -> None:
    """From coral to violet and back towards mauve no colour on the head is green or blue."""
    for state in STATES:
        for stretch in (*state.strand, state.nape):
            if chroma(stretch.lab) > 8:
                assert not 110 < hue_degrees(stretch.lab) < 290, (state.key, stretch.part, stretch.lab)


def test_named_colours_look_their_names() -> None:
    """Coral rose is a light red, fresh violet a dark violet, and four weeks later a lighter, greyer mauve."""
    coral = BY_KEY["2026-03-07 after"].band("mid-lengths").lab
    violet = BY_KEY["2026-05-16 after"].band("mid-lengths").lab
    mauve = BY_KEY["2026-06-13 before"].band("mid-lengths").lab
    assert 15 < hue_degrees(coral) < 45
    assert coral[0] > 50
    assert 295 < hue_degrees(violet) < 330
    assert mauve[0] > violet[0] + 10
    assert chroma(mauve) < chroma(violet) - 10


def test_true_lab_agrees_with_another_colour_library() -> None:
    """Lab of the truth from its linear sRGB equals colour-science's own conversion."""
    for stretch in BY_KEY["2026-05-16 after"].strand:
        xyz = colour.RGB_to_XYZ(np.array(stretch.linear), "sRGB", apply_cctf_decoding=False)
        expected = colour.XYZ_to_Lab(
            xyz, colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
        )
        np.testing.assert_allclose(stretch.lab, expected, atol=0.06)  # the standard's matrix has four digits


# ---- cards and camera


def test_chart_has_the_standards_colours() -> None:
    """Patches agree with colour-science's integration of the same ISO 17321-1 reflectances under D65."""
    spectra = colour.SDS_COLOURCHECKERS["ISO 17321-1"]
    observer = colour.MSDS_CMFS["CIE 1931 2 Degree Standard Observer"]
    d65 = colour.SDS_ILLUMINANTS["D65"].copy().align(observer.shape)
    white = colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    for name, linear in zip(spectra, chart_linear(), strict=True):
        xyz = (
            colour.sd_to_XYZ(spectra[name].copy().align(observer.shape), observer, d65, method="Integration")
            / 100
        )
        expected = colour.XYZ_to_Lab(xyz, white)
        difference = colour.delta_E(lab_of_linear(linear), expected, method="CIE 2000")
        assert difference < 0.6, name  # 5 nm against colour-science's 1 nm, and a rescaled white


def test_chart_boxes_lie_on_their_patches() -> None:
    """The middle of each recorded box holds that patch's colour and nothing else."""
    chart = colour_chart(600)
    assert chart.shape[0] / chart.shape[1] == pytest.approx(CHART_SHAPE, abs=0.01)
    for (x0, y0, x1, y1), value in zip(chart_boxes(), chart_linear(), strict=True):
        inner = crop(chart, (x0 + 0.01, y0 + 0.01, x1 - x0 - 0.02, y1 - y0 - 0.02))
        np.testing.assert_allclose(
            inner, np.broadcast_to(np.clip(value, 0.002, None), inner.shape), atol=1e-6
        )


def test_perspective_takes_corners_to_corners() -> None:
    """The perspective map sends the four given points where they were asked to go."""
    corners = [(10.0, 12.0), (90.0, 8.0), (95.0, 70.0), (6.0, 66.0)]
    H = homography([(0, 0), (1, 0), (1, 1), (0, 1)], corners)
    for (x, y), expected in zip([(0, 0), (1, 0), (1, 1), (0, 1)], corners, strict=True):
        u, v, w = H @ [x, y, 1]
        np.testing.assert_allclose((u / w, v / w), expected, atol=1e-9)


def test_a_grey_gain_cannot_undo_a_warm_lamp() -> None:
    """After dividing by the grey card's channels a coral still differs between lamps: sensors mix
    channels.
    """
    coral = np.array([0.60, 0.13, 0.13])
    readings = []
    for light in (SALON, TUNGSTEN):
        matrix = sensor_matrix(light)
        readings.append(lab_of_linear(matrix @ coral / (matrix @ np.ones(3))))
    assert colour.delta_E(*readings, method="CIE 2000") > 1.0


@pytest.mark.parametrize("shot", SHOTS, ids=lambda s: s.file)
def test_grey_card_does_not_clip(shot) -> None:
    """An 18 % grey under each photo's lamp stays well inside the range of every channel."""
    grey = np.full((40, 40, 3), 0.18, np.float32)
    pixels = develop(grey, np.random.default_rng(1), shot.light)
    assert pixels.min() > 40
    assert pixels.max() < 200


def test_display_p3_profile_means_what_the_pixels_say() -> None:
    """Little CMS, reading our profile, turns P3 pixels into the sRGB pixels we started from."""
    wanted = np.array([[[216, 69, 63], [90, 70, 140], [128, 128, 128]]], np.uint8)
    p3 = np.rint(encode(linear_srgb_of(wanted, False) @ TO_P3.T) * 255).astype(np.uint8)
    profile = ImageCms.ImageCmsProfile(io.BytesIO(display_p3_profile()))
    back = ImageCms.profileToProfile(
        Image.fromarray(p3), profile, ImageCms.createProfile("sRGB"), renderingIntent=1
    )
    np.testing.assert_allclose(np.asarray(back).astype(int), wanted.astype(int), atol=2)


# ---- files


@pytest.mark.parametrize("orientation", [1, 6, 8])
def test_stored_sideways_shows_upright(orientation: int) -> None:
    """Whichever way the pixels are stored, honouring the orientation gives the picture back."""
    shot = dataclasses.replace(SHOTS[0], orientation=orientation)
    pixels = small_picture()
    data = encode_photo(pixels, shot)
    stored = Image.open(io.BytesIO(data))
    assert stored.size == ((80, 60) if orientation == 1 else (60, 80))
    shown = decode_photo(data)
    assert shown.shape == pixels.shape
    assert np.abs(shown.astype(int) - pixels.astype(int)).mean() < 6


def test_encoded_photo_carries_everything_planted() -> None:
    """Names, place, serial, comment, thumbnail, XMP, IPTC and a trailer are all in the file, as sources
    have them.
    """
    shot = next(s for s in SHOTS if s.trailer)
    data = encode_photo(small_picture(), shot)
    for text in PLANTED:
        assert text.encode() in data, text
    assert data.endswith(shot.trailer)
    read = Image.open(io.BytesIO(data)).getexif()
    assert read[0x010E].startswith(metadata.CLIENT)
    assert read.get_ifd(0x8769)[0x9003] == taken_at(shot)[0]
    north = read.get_ifd(0x8825)[2]
    degrees = float(north[0]) + float(north[1]) / 60 + float(north[2]) / 3600
    assert degrees == pytest.approx(metadata.SALON_PHONE.latitude, abs=1e-5)
    start, length = (read.get_ifd(ExifTags.IFD.IFD1)[tag] for tag in (0x0201, 0x0202))
    tiff = data.index(b"Exif\0\0") + 6
    small = Image.open(io.BytesIO(data[tiff + start : tiff + start + length]))
    small.load()
    assert small.size == (80, 60)


@pytest.mark.skipif(shutil.which("exiftool") is None, reason="needs exiftool as an outside reader")
def test_an_outside_reader_finds_every_group(tmp_path: Path) -> None:
    """exiftool reads EXIF, GPS, thumbnail, XMP, IPTC and comment out of the file without complaint of
    damage.
    """
    path = tmp_path / "one.jpg"
    path.write_bytes(encode_photo(small_picture(), SHOTS[0]))
    told = subprocess.run(["exiftool", "-G1", "-j", str(path)], capture_output=True, check=True, text=True)
    tags = json.loads(told.stdout)[0]
    assert tags["IFD0:Make"] == metadata.SALON_PHONE.make
    assert tags["IPTC:By-line"] == metadata.STYLIST
    assert tags["XMP-iptcExt:PersonInImage"] == metadata.CLIENT
    assert tags["GPS:GPSProcessingMethod"].startswith(metadata.STREET)
    assert metadata.CLIENT in tags["File:Comment"]
    assert tags["IFD1:ThumbnailLength"] > 100
    warning = tags.get("ExifTool:Warning", "")
    assert warning in ("", "[minor] Unrecognized MakerNotes")


# ---- measuring


def test_measuring_against_grey_recovers_a_flat_colour() -> None:
    """In plain light a flat patch beside the card reads as itself."""
    linear = np.full((40, 80, 3), 0.18)
    linear[:, 40:] = (0.4, 0.1, 0.2)
    pixels = np.rint(encode(linear * 0.8) * 255).astype(np.uint8)
    told = measure(pixels, (0.6, 0.2, 0.3, 0.6), (0.1, 0.2, 0.3, 0.6), False)
    np.testing.assert_allclose(told["measured_lab"], lab_of_linear(np.array([0.4, 0.1, 0.2])), atol=0.6)


def test_boxes_are_only_offered_where_the_hair_is_pure() -> None:
    """A box is found inside the wanted hair, and none where there is too little of it."""
    from tests.demo_pictures.head import Layers

    shape = (300, 300)
    even = np.full((*shape, 3), 0.3, np.float32)
    one, none = np.ones(shape, np.float32), np.zeros(shape, np.float32)
    layers = Layers(even, even, one[..., None], none, none, one, none)
    weight = none.copy()
    weight[50:200, 60:220] = 1
    x, y, w, h = find_box(weight, layers)
    inside = crop(weight, (x, y, w, h))
    assert inside.mean() > 0.85
    weight[:] = 0
    weight[50:60, 60:70] = 1
    assert find_box(weight, layers) is None


def test_slides_tell_their_shares() -> None:
    """The slide of many strands holds at least twelve strands of two kinds."""
    many = SLIDES["many strands"].fibres
    assert len(many) >= 12
    assert {f.kind for f in many} == {"violet", "pale"}


# ---- what is committed


def committed() -> list[dict]:
    return json.loads(TRUTH_FILE.read_text())["photos"]


def test_committed_truth_is_that_of_this_scenario() -> None:
    """truth.json holds the scenario as it stands, and the fragment is made from the same facts."""
    truth = json.loads(TRUTH_FILE.read_text())
    assert truth["states"] == json.loads(json.dumps(table_of_states()))
    assert [fact["file"] for fact in truth["photos"]] == [shot.file for shot in SHOTS]
    assert TRUTH_FILE.with_name("photos_fragment.yaml").read_text() == fragment(truth["photos"])


def test_committed_photos_are_there_and_light() -> None:
    """Every listed photo is in the demo's folder, none is missing from the list, and all weigh under 16
    MB.
    """
    names = {path.name for path in PHOTOS.glob("*.jpg")}
    assert names == {shot.file for shot in SHOTS}
    assert sum((PHOTOS / name).stat().st_size for name in names) < 16e6


@pytest.mark.parametrize("fact", committed() if TRUTH_FILE.exists() else [], ids=lambda f: f["file"])
def test_committed_boxes_lie_inside_their_photos(fact: dict) -> None:
    """Every box and corner lies inside the picture, and hair patches are wide enough to hold many strands."""
    with Image.open(PHOTOS / fact["file"]) as image:
        W, H = image.size if fact["orientation"] == 1 else image.size[::-1]
    boxes = [p["rect"] for p in fact.get("patches", ())] + [c["rect"] for c in fact.get("cover", ())]
    if "neutral" in fact:
        boxes.append(fact["neutral"]["rect"])
    for x, y, w, h in boxes:
        assert 0 <= x < x + w <= 1
        assert 0 <= y < y + h <= 1
    for patch in fact.get("patches", ()):
        _, _, w, h = patch["rect"]
        assert w * W >= 19
        assert h * H >= 60
    for x, y in fact.get("chart", {}).get("corners", ()):
        assert 0 < x < 1
        assert 0 < y < 1


def test_every_visit_can_be_measured() -> None:
    """Each dated state but the fibres has a back view with a grey card and at least three patches of hair."""
    for shot in SHOTS:
        if shot.view == "back":
            fact = next(f for f in committed() if f["file"] == shot.file)
            assert fact["neutral"]["reflectance"] == 0.18
            assert len(fact["patches"]) >= 3, shot.file
