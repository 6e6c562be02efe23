"""A colourist's words for colours: known cases, sense over the whole of hair, and what other people say."""

import itertools
from collections.abc import Iterator

import numpy as np
import pytest
from matplotlib.colors import XKCD_COLORS

from journey.colour.names import (
    _NOUN_OF_PLACE,
    _PLACES_LAB,
    MODIFIERS,
    NOUNS,
    ColourName,
    colour_name,
)
from journey.colour.spaces import hex_to_lab, lab_to_hex, lab_to_lch, lch_to_lab
from tests.simulators.hair import DYE_DENSITIES, LIGHTENED, NATURAL_LEVELS, dyed_hair
from tests.simulators.spectra import spectrum_to_lab


def hair_colours() -> Iterator[tuple[float, float, float]]:
    """A grid of lightness, chroma and hue over what a screen can show of hair."""
    for lch in itertools.product(range(10, 92, 4), range(0, 72, 4), range(0, 360, 12)):
        if not lab_to_hex(lch_to_lab(lch)).clipped:
            yield (float(lch[0]), float(lch[1]), float(lch[2]))


@pytest.mark.parametrize(
    ("lab", "key"),
    [
        ((60, 44, 24), "coral rose"),
        ((50, 45, 25), "deep coral rose"),
        ((35, 40, -36), "violet"),
        ((29, 4, 12), "brown"),
        ((75, 2, 24), "pale yellow"),
        ((67, 5.5, 32), "light yellow"),
        ((82, 0.5, 14), "platinum"),
        ((14, 1, 3), "black"),
        ((24, 0, -3), "charcoal"),
        ((72, 0, -4), "silver"),
        ((48, -44, 2), "teal"),
        ((18, 6, -23), "navy"),
        ((68, 22, -20), "lilac"),
        ((75, 18, 26), "peach"),
        ((52, 31, 49), "copper"),
        ((44, 63, -13), "magenta"),
    ],
)
def test_known_colours_have_their_word(lab: tuple[float, float, float], key: str) -> None:
    """Colours a colourist would not argue about (common practice, no source)."""
    assert colour_name(lab).key == key


def test_natural_hair_is_called_by_its_depth() -> None:
    """From black over browns to blondes: never a fashion colour, and never back to darker."""
    depth = ["black", "brown black", "dark brown", "brown", "light brown", "dark blonde", "blonde", "light blonde"]
    found = [depth.index(colour_name(lab).key) for lab in spectrum_to_lab(NATURAL_LEVELS)]
    assert found == sorted(found)
    assert found[0] == 0
    assert found[-1] >= 6


def test_lightened_hair_pales() -> None:
    """Levels 8 to 10 and beyond are golden, yellow, pale yellow, platinum, as the undertone chart has it."""
    names = [colour_name(spectrum_to_lab(LIGHTENED[level])).key for level in ("8", "9", "10", "10+")]
    assert names == ["golden blonde", "light yellow", "pale yellow", "platinum"]


@pytest.mark.parametrize(
    ("dye", "words"),
    [
        ("teal", {"teal"}), ("violet", {"violet", "purple"}), ("rose", {"rose"}), ("copper", {"copper", "orange"}),
        ("red", {"red"}), ("green", {"green"}), ("magenta", {"magenta"}), ("yellow", {"yellow", "gold"}),
        ("navy", {"indigo", "navy"}), ("plum", {"plum", "wine"}), ("orange", {"orange", "copper"}),
    ],
)  # fmt: skip
def test_dyes_keep_their_name_on_light_hair(dye: str, words: set[str]) -> None:
    """A full dye on pale hair is called by its own family of words."""
    lab = spectrum_to_lab(dyed_hair(LIGHTENED["10"], DYE_DENSITIES[dye]))
    assert words & set(colour_name(lab).key.split())


@pytest.mark.parametrize(
    "word",
    [
        "black", "charcoal", "grey", "silver", "white", "orange", "copper", "coral", "red", "dark red", "rose",
        "pink", "raspberry", "magenta", "plum", "violet", "aubergine", "lilac", "indigo", "blue", "navy",
        "sky blue", "steel blue", "petrol", "turquoise", "mint", "green", "forest green", "olive", "khaki", "lime",
        "auburn", "yellow",
    ],
)  # fmt: skip
def test_words_agree_with_a_survey(word: str) -> None:
    """Colours that 200,000 people named (xkcd survey 2010, as shipped in matplotlib) get the same noun.

    Left out, as hair uses the word otherwise: beige (87 -4 27, a pale yellow on hair), brown, chestnut and
    caramel (chroma above 40, never on hair), lavender (72 30 -35, hair's lilac), mauve (54 26 1, hair's rose),
    peach and apricot (78 23 38 and 78 22 46: one step apart), purple (33 57 -48, hair's violet), teal
    (55 -36 -2, hair's turquoise), gold (75 1 76, hair's yellow), dusty rose and dusty pink (chroma 32).
    """
    noun = colour_name(hex_to_lab(str(XKCD_COLORS[f"xkcd:{word}"]))).noun
    assert word.split()[-1] in noun.split()


def test_every_place_bears_its_own_noun_bare() -> None:
    """Every noun is reached somewhere in hair, and some colour bears it without a modifier."""
    bare = {name.noun for name in (colour_name(lch_to_lab(lch)) for lch in hair_colours()) if not name.modifier}
    assert bare == set(NOUNS)


def test_words_come_from_the_lists() -> None:
    """Whatever the colour, even outside of hair, its words can be looked up for translating."""
    rng = np.random.default_rng(1)
    for lab in np.column_stack([rng.uniform(0, 100, 400), rng.uniform(-110, 110, (400, 2))]):
        name = colour_name(lab)
        assert name.noun in NOUNS
        assert name.modifier in ("", *MODIFIERS)
        assert name.key == f"{name.modifier} {name.noun}".strip()
    assert len(set(NOUNS)) == len(NOUNS)


def test_modifiers_mean_what_they_say() -> None:
    """Of one noun, 'deep' is darker than bare, 'light' lighter, 'soft' weaker, 'vivid' stronger, on average."""
    found: dict[ColourName, list[tuple[float, float, float]]] = {}
    for lch in hair_colours():
        found.setdefault(colour_name(lch_to_lab(lch)), []).append(lch)
    pairs = 0
    for name, colours in found.items():
        bare = found.get(ColourName("", name.noun))
        if not name.modifier or bare is None or len(colours) < 5:
            continue
        pairs += 1
        lightness, chroma, _ = np.mean(colours, axis=0) - np.mean(bare, axis=0)
        if name.modifier in ("light", "pale", "bright"):
            assert lightness > 2, name
        if name.modifier in ("deep", "dusky"):
            assert lightness < -2, name
        if name.modifier == "soft":
            assert chroma < -2, name
        if name.modifier == "vivid":
            assert chroma > 2, name
    assert pairs > 60


def test_no_name_says_it_twice_or_against_itself() -> None:
    """Nothing is dusky and dusty, pale and a plum, light and dark; and no name has more than three words."""
    names = {colour_name(lch_to_lab(lch)) for lch in hair_colours()}
    for name in names:
        assert len(name.key.split()) <= 3, name
        if name.noun.split()[0] in ("dusty", "smoky", "grey", "steel", "slate"):
            assert name.modifier not in ("dusky", "soft", "vivid"), name
        if name.noun in ("plum", "aubergine", "navy", "wine red", "black", "charcoal", "dark brown"):
            assert name.modifier not in ("light", "pale", "bright"), name
        if name.noun.split()[0] in ("light", "pale"):
            assert not name.modifier, name
    assert len({name.key for name in names}) > 150


def test_a_word_never_comes_from_the_other_side_of_the_circle() -> None:
    """Where a hue can be seen, the noun's own place lies within 40 degrees of it."""
    hues: dict[str, list[float]] = {}
    for noun, place in zip(_NOUN_OF_PLACE, _PLACES_LAB, strict=True):
        hues.setdefault(noun, []).append(float(lab_to_lch(place)[2]))
    for lightness, chroma, hue in hair_colours():
        if chroma >= 20 and lightness >= 26:
            noun = colour_name(lch_to_lab((lightness, chroma, hue))).noun
            turned = min(abs((own - hue + 180) % 360 - 180) for own in hues[noun])
            assert turned < 40, (lightness, chroma, hue, noun)


@pytest.mark.parametrize(
    ("hues", "words"),
    [
        (range(5, 40, 5), {"rose", "coral", "red", "cherry", "raspberry", "wine", "plum", "pink", "auburn"}),
        (range(300, 325, 5), {"violet", "indigo", "lilac", "lavender", "purple", "mauve"}),
        (range(240, 280, 5), {"blue", "navy", "petrol", "lavender"}),
        (range(130, 160, 5), {"green", "mint", "sage", "lime"}),
    ],
)
def test_strong_colours_stay_in_their_family(hues: range, words: set[str]) -> None:
    """At chroma 35 to 45 the noun belongs to the hue, at any lightness a screen can show."""
    for hue, chroma, lightness in itertools.product(hues, (35, 45), range(30, 66, 5)):
        lab = lch_to_lab((lightness, chroma, hue))
        if not lab_to_hex(lab).clipped:
            assert words & set(colour_name(lab).noun.split()), (lightness, chroma, hue)
