"""Colour spaces against published constants, colour-science and scikit-image."""

import colour
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.color import rgb2lab

from journey.colour.spaces import (
    D65_WHITE,
    Primaries,
    bradford_adaptation,
    decode_srgb,
    encode_srgb,
    hex_to_lab,
    lab_slope,
    lab_to_code_values,
    lab_to_hex,
    lab_to_lch,
    lab_to_xyz,
    lch_to_lab,
    linear_rgb_to_xyz,
    xyz_to_lab,
    xyz_to_linear_rgb,
)

lab_colours = st.tuples(st.floats(0, 100), st.floats(-100, 100), st.floats(-100, 100))

# Published implementations differ among themselves by up to 0.023 in Lab, for their matrices' rounding.
BETWEEN_IMPLEMENTATIONS = 0.03


@pytest.mark.parametrize(
    ("encoded", "linear"),
    [(128 / 255, 0.21586050), (10 / 255, 0.00303527), (0.5, 0.214041140), (0.0, 0.0), (1.0, 1.0)],
)
def test_srgb_curve_decodes_as_the_standard_does(encoded: float, linear: float) -> None:
    """The curve of IEC 61966-2-1, values computed with colour-science 0.4.7."""
    assert decode_srgb(encoded) == pytest.approx(linear, abs=5e-9)
    assert decode_srgb(encoded) == pytest.approx(float(colour.models.eotf_sRGB(encoded)), abs=1e-12)


def test_srgb_curve_encodes_as_the_standard_does() -> None:
    """encode(0.18) and encode(0.5) of IEC 61966-2-1, values computed with colour-science 0.4.7."""
    assert encode_srgb([0.18, 0.5]) == pytest.approx([0.461356130, 0.735356983], abs=5e-10)


@given(st.floats(0, 1))
def test_srgb_curve_runs_back(encoded: float) -> None:
    """Decoding and encoding again gives the same value, also across the joint of the curve."""
    assert encode_srgb(decode_srgb(encoded)) == pytest.approx(encoded, abs=1e-7)


def test_linear_colour_reaches_the_published_xyz() -> None:
    """The four-digit matrix of IEC 61966-2-1 gives (.29577, .25656, .12854); ours is within 0.0001 of it."""
    xyz = linear_rgb_to_xyz((0.5, 0.2, 0.1))
    assert xyz == pytest.approx([0.29577, 0.25656, 0.12854], abs=1e-4)


def test_srgb_matrix_lies_within_the_published_ones() -> None:
    """IEC four digits, and derived from primaries and (.3127, .3290): each entry within 0.0003 of ours."""
    ours = linear_rgb_to_xyz(np.eye(3)).T
    iec = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    derived = [
        [0.4123907993, 0.3575843394, 0.1804807884],
        [0.2126390059, 0.7151686788, 0.0721923154],
        [0.0193308187, 0.1191947798, 0.9505321522],
    ]
    assert np.abs(ours - iec).max() < 3e-4
    assert np.abs(ours - derived).max() < 3e-4


@pytest.mark.parametrize(
    ("primaries", "name"),
    [("srgb", "sRGB"), ("display-p3", "Display P3"), ("rec2020", "ITU-R BT.2020")],
)
def test_every_rgb_space_agrees_with_colour_science(primaries: Primaries, name: str) -> None:
    """Matrices of the three spaces lie within 0.0003 of colour-science's, and back again."""
    space = colour.RGB_COLOURSPACES[name]
    assert np.abs(linear_rgb_to_xyz(np.eye(3), primaries).T - space.matrix_RGB_to_XYZ).max() < 3e-4
    rgb = np.array([[0.2, 0.5, 0.9], [1.0, 0.0, 0.1]])
    assert xyz_to_linear_rgb(linear_rgb_to_xyz(rgb, primaries), primaries) == pytest.approx(rgb)
    assert linear_rgb_to_xyz((1, 1, 1), primaries) == pytest.approx(D65_WHITE, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "lab"),
    [
        ("#ff0000", (53.2408, 80.0925, 67.2032)),
        ("#00ff00", (87.7347, -86.1827, 83.1793)),
        ("#0000ff", (32.2970, 79.1875, -107.8602)),
        ("#ffffff", (100, 0, 0)),
        ("#808080", (53.5850, 0, 0)),
        ("#a52a2a", (37.5265, 49.6903, 30.5432)),
    ],
)
def test_screen_colours_have_their_published_lab(text: str, lab: tuple[float, float, float]) -> None:
    """Six colours by Lindbloom's matrix, and by scikit-image and colour-science, which differ by 0.02."""
    codes = np.array([int(text[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    xyz = colour.sRGB_to_XYZ(codes)
    by_colour_science = colour.XYZ_to_Lab(
        xyz, colour.CCS_ILLUMINANTS["CIE 1931 2 Degree Standard Observer"]["D65"]
    )
    ours = hex_to_lab(text)
    assert ours == pytest.approx(lab, abs=BETWEEN_IMPLEMENTATIONS)
    assert ours == pytest.approx(rgb2lab(codes), abs=BETWEEN_IMPLEMENTATIONS)
    assert ours == pytest.approx(by_colour_science, abs=BETWEEN_IMPLEMENTATIONS)


def test_grey_is_grey_to_the_last_digit() -> None:
    """A neutral code has no a* and no b* at all: the RGB white is the white of CIELAB."""
    codes = np.arange(256) / 255
    lab = xyz_to_lab(linear_rgb_to_xyz(decode_srgb(np.stack([codes] * 3, axis=-1))))
    assert np.abs(lab[:, 1:]).max() < 1e-10


@given(lab_colours)
def test_lab_and_xyz_run_back(lab: tuple[float, float, float]) -> None:
    """CIELAB to XYZ and back gives the same colour, on both parts of the curve."""
    assert xyz_to_lab(lab_to_xyz(lab)) == pytest.approx(lab, abs=1e-8)


def test_lab_agrees_with_colour_science_at_our_white() -> None:
    """A thousand XYZ colours, the darkest on the straight part, agree to 1e-9."""
    xyz = np.random.default_rng(1).uniform(0, 1, (1000, 3)) ** 3
    white_xy = colour.XYZ_to_xy(D65_WHITE)
    assert xyz_to_lab(xyz) == pytest.approx(np.asarray(colour.XYZ_to_Lab(xyz, white_xy)), abs=1e-9)


def test_linear_mixture_has_its_lab() -> None:
    """(.38, .282, .158) is Lab 61.1227 2.6605 20.9865 by the IEC matrix: ours within 0.01."""
    lab = xyz_to_lab(linear_rgb_to_xyz((0.38, 0.282, 0.158)))
    assert lab == pytest.approx([61.1227, 2.6605, 20.9865], abs=0.01)


@given(lab_colours)
def test_polar_form_runs_back(lab: tuple[float, float, float]) -> None:
    """Chroma and hue give back a* and b*, and the hue is a whole turn at most."""
    lch = lab_to_lch(lab)
    assert 0 <= lch[2] < 360
    assert lch[1] >= 0
    assert lch_to_lab(lch) == pytest.approx(lab, abs=1e-9)


def test_slope_of_lab_is_its_derivative() -> None:
    """∂Lab/∂XYZ against small steps, on both parts of the curve."""
    xyz = np.array([[0.4, 0.3, 0.1], [0.002, 0.003, 0.001], [0.9, 0.95, 1.0]])
    slope = lab_slope(xyz)
    for axis in range(3):
        step = np.zeros(3)
        step[axis] = 1e-7
        numeric = (xyz_to_lab(xyz + step) - xyz_to_lab(xyz - step)) / 2e-7
        assert slope[..., axis] == pytest.approx(numeric, rel=1e-5, abs=1e-5)


def test_bradford_matrices_are_the_published_ones() -> None:
    """D65 to D50 and back with Lindbloom's whites and the ICC cone matrix, to 7 digits."""
    d65, d50 = (0.95047, 1, 1.08883), (0.96422, 1, 0.82521)
    to_d50 = [
        [1.0478112, 0.0228866, -0.0501270],
        [0.0295424, 0.9904844, -0.0170491],
        [-0.0092345, 0.0150436, 0.7521316],
    ]
    to_d65 = [
        [0.9555766, -0.0230393, 0.0631636],
        [-0.0282895, 1.0099416, 0.0210077],
        [0.0122982, -0.0204830, 1.3299098],
    ]
    assert np.abs(bradford_adaptation(d65, d50) - to_d50).max() < 1e-7
    assert np.abs(bradford_adaptation(d50, d65) - to_d65).max() < 1e-7
    assert bradford_adaptation(d65, d50) @ np.array(d65) == pytest.approx(d50)


def test_hex_tells_what_the_screen_can_not_show() -> None:
    """A colour inside sRGB is exact and unclipped; one outside is clamped and says so."""
    assert lab_to_hex(hex_to_lab("#a52a2a")).text == "#a52a2a"
    assert not lab_to_hex(hex_to_lab("#a52a2a")).clipped
    assert lab_to_hex((60, -60, 0)).clipped
    codes, clipped = lab_to_code_values([[50, 0, 0], [60, -60, 0]])
    assert codes.tolist()[0] == [119, 119, 119]
    assert clipped.tolist() == [False, True]


@pytest.mark.parametrize("code", range(0, 256, 5))
def test_every_screen_colour_survives_the_round(code: int) -> None:
    """#rrggbb to CIELAB and back is the same text, unclipped even at the corners of the screen's gamut."""
    for text in (f"#{code:02x}00ff", f"#ff{code:02x}00", f"#00ff{code:02x}"):
        shown = lab_to_hex(hex_to_lab(text))
        assert (shown.text, shown.clipped) == (text, False)


@pytest.mark.parametrize("text", ["#fff", "a52a2a", "#a52a2g", "#a52a2a\n", ""])
def test_other_forms_of_colour_are_refused(text: str) -> None:
    """Only '#rrggbb' is a colour; the refusal repeats what was written."""
    with pytest.raises(ValueError, match="#rrggbb"):
        hex_to_lab(text)
