"""A colourist's words for a colour: a noun of the trade, and at most one modifier before it.

Decides the words and where in colour space each stands; a theme translates them, by `MODIFIERS` and `NOUNS`.
The places are ours, set by eye in CIELAB under D65 for colours hair can have: there is no standard of hair
colour names. Names of natural depth (brown, dark blonde...) describe what is seen, and are no statement of
the level, which is the colourist's to judge.

A colour gets the noun whose place is nearest in CIEDE2000, and a modifier when it lies well beside it and the
noun does not say as much by itself.
"""

from dataclasses import dataclass
from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from journey.colour.difference import delta_e_2000
from journey.colour.spaces import FloatArray, lab_to_lch, lch_to_lab

# Each noun with its places: lightness L*, chroma C*ab, hue in degrees.
_FASHION: Final[tuple[tuple[str, tuple[tuple[int, int, int], ...]], ...]] = (
    ("red", ((44, 66, 40), (40, 60, 34))),
    ("wine red", ((24, 42, 14), (28, 48, 22), (33, 36, 15), (34, 27, 15))),
    ("cherry", ((37, 60, 20),)),
    ("auburn", ((32, 36, 45), (38, 42, 47))),
    ("copper red", ((48, 55, 48),)),
    ("copper", ((52, 58, 58), (46, 45, 57))),
    ("orange", ((62, 66, 60),)),
    ("copper gold", ((60, 48, 67), (67, 40, 68), (52, 40, 64))),
    ("apricot", ((70, 44, 62),)),
    ("peach", ((75, 32, 55), (70, 28, 50), (66, 30, 50))),
    ("coral", ((63, 58, 36), (60, 44, 40), (66, 42, 38))),
    ("coral rose", ((60, 50, 28), (57, 44, 26), (64, 42, 26))),
    ("rose", ((52, 48, 14), (58, 36, 14), (55, 28, 18))),
    ("dusty rose", ((56, 19, 15), (64, 18, 15), (50, 19, 18))),
    ("rose beige", ((58, 11, 18), (53, 10, 12), (64, 10, 25), (48, 10, 0))),
    ("rose brown", ((42, 13, 22), (40, 18, 20), (38, 11, 12))),
    ("pink", ((66, 42, 358), (72, 30, 0), (78, 22, 2))),
    ("raspberry", ((40, 56, 2), (44, 50, 8))),
    ("magenta", ((44, 64, 348), (50, 58, 345))),
    ("plum", ((24, 38, 345), (27, 46, 355), (26, 26, 340))),
    ("smoky plum", ((34, 18, 345), (34, 14, 325), (28, 13, 345), (37, 15, 338), (24, 15, 328), (34, 22, 340))),
    ("aubergine", ((16, 24, 330), (17, 20, 345))),
    ("purple", ((33, 44, 330), (38, 50, 328))),
    ("violet", ((35, 54, 317), (32, 44, 316), (42, 48, 314), (30, 36, 318), (25, 38, 315))),
    ("mauve", ((50, 24, 335), (56, 20, 350), (46, 28, 330), (44, 17, 325), (46, 14, 340))),
    ("lilac", ((68, 30, 318), (72, 22, 322), (62, 30, 318))),
    ("lavender", ((66, 28, 300), (72, 20, 302))),
    ("indigo", ((22, 46, 300), (26, 40, 296), (18, 52, 304))),
    ("blue violet", ((34, 44, 302), (36, 58, 302), (30, 54, 304))),
    ("navy", ((18, 24, 284), (16, 30, 292), (22, 26, 292))),
    ("slate blue", ((34, 22, 286), (30, 17, 278), (39, 18, 276))),
    ("blue", ((40, 40, 275), (36, 46, 282), (45, 34, 262), (38, 34, 262))),
    ("sky blue", ((66, 28, 256), (70, 24, 248))),
    ("steel blue", ((48, 16, 262), (56, 14, 258))),
    ("petrol", ((35, 26, 222), (38, 30, 232), (30, 22, 218))),
    ("teal", ((46, 38, 192), (42, 40, 178), (40, 32, 202), (52, 22, 205))),
    ("turquoise", ((62, 38, 188), (66, 36, 198), (62, 36, 176))),
    ("mint", ((76, 26, 158), (72, 26, 145), (80, 20, 165))),
    ("sea green", ((55, 36, 162), (58, 22, 150), (52, 18, 160))),
    ("grey green", ((52, 11, 155), (60, 11, 160), (44, 11, 150))),
    ("sage", ((60, 25, 128), (66, 18, 132), (54, 19, 126))),
    ("green", ((48, 52, 138), (54, 56, 142), (42, 44, 144))),
    ("forest green", ((28, 30, 146),)),
    ("olive", ((46, 32, 108), (52, 36, 112), (38, 26, 106))),
    ("khaki", ((60, 30, 112), (62, 26, 106), (58, 20, 118))),
    ("lime", ((74, 52, 116), (70, 40, 118))),
    ("yellow", ((76, 62, 92), (70, 58, 90))),
    ("gold", ((64, 52, 82), (62, 60, 82), (58, 48, 80))),
)  # fmt: skip
_BARE: Final[tuple[tuple[str, tuple[tuple[int, int, int], ...]], ...]] = (
    ("black", ((8, 1, 60), (14, 3, 66), (17, 2, 280))),
    ("brown black", ((18, 6, 62),)),
    ("dark brown", ((22, 9, 62), (25, 10, 68))),
    ("brown", ((29, 13, 70), (33, 15, 71), (28, 20, 64))),
    ("light brown", ((38, 17, 73), (42, 18, 73))),
    ("chestnut", ((28, 24, 48), (33, 28, 54), (24, 18, 44))),
    ("caramel", ((47, 30, 66), (42, 30, 62))),
    ("ash brown", ((28, 5, 75), (36, 7, 80), (44, 8, 82))),
    ("dark blonde", ((48, 19, 75), (52, 19, 76))),
    ("blonde", ((57, 19, 77), (61, 19, 78))),
    ("light blonde", ((66, 19, 80), (71, 18, 82))),
    ("ash blonde", ((56, 9, 88), (64, 9, 90), (72, 9, 92))),
    ("golden blonde", ((60, 34, 74), (58, 36, 74), (64, 38, 76))),
    ("strawberry blonde", ((62, 26, 60), (66, 24, 58))),
    ("beige", ((66, 15, 62), (74, 13, 66), (60, 14, 58))),
    ("light yellow", ((67, 32, 80), (70, 36, 84), (74, 42, 90))),
    ("pale yellow", ((75, 24, 85), (79, 26, 90), (77, 30, 90))),
    ("platinum", ((82, 14, 88), (86, 10, 90), (84, 16, 92))),
    ("white", ((94, 3, 90),)),
    ("pearl", ((80, 6, 40), (84, 6, 20), (76, 7, 30))),
    ("silver", ((70, 4, 265), (78, 4, 265), (66, 5, 300), (72, 3, 90))),
    ("grey", ((50, 3, 200), (58, 3, 265), (44, 3, 100))),
    ("charcoal", ((24, 3, 265), (32, 3, 265))),
)  # fmt: skip

# Steps beside a noun's place that are worth a word, and how far chroma may swing.
_LIGHTNESS_STEP: Final = 7.0
_LESS_CHROMA: Final = 0.68
_MORE_CHROMA: Final = 1.40
_MOST_NEUTRAL_CHROMA: Final = 8.0
# Lightness counts less than hue in a name, as a photo gives it less surely.
_NAMING_K_L: Final = 1.3

NOUNS: Final = tuple(noun for noun, _ in _FASHION + _BARE)
MODIFIERS: Final = ("light", "pale", "bright", "deep", "dusky", "soft", "vivid")

_PLACES_LCH: Final[FloatArray] = np.array(
    [place for _, places in _FASHION + _BARE for place in places], dtype=np.float64
)
_PLACES_LAB: Final[FloatArray] = lch_to_lab(_PLACES_LCH)
_NOUN_OF_PLACE: Final = tuple(noun for noun, places in _FASHION + _BARE for _ in places)
_UNMODIFIED: Final = frozenset(noun for noun, _ in _BARE) | {"rose beige", "rose brown"}
# Words that say it already: a dusty rose is not dusky besides, and a plum that is light is no plum.
_MUTED: Final = ("dusty rose", "mauve", "smoky plum", "sage", "grey green", "steel blue", "slate blue")
_DARK: Final = ("wine red", "plum", "aubergine", "navy", "smoky plum")


@dataclass(frozen=True, slots=True)
class ColourName:
    """A name in English keys: `modifier` is one of `MODIFIERS` or '', `noun` one of `NOUNS`."""

    modifier: str
    noun: str

    @property
    def key(self) -> str:
        """Both together: 'deep coral rose'."""
        return f"{self.modifier} {self.noun}".strip()


def colour_name(lab: ArrayLike) -> ColourName:
    """The name of one CIELAB colour (3,), relative to D65.

    >>> colour_name((50, 45, 25)).key
    'deep coral rose'
    """
    return _name_of(*map(float, np.asarray(lab, dtype=np.float64)))


@lru_cache(maxsize=4096)
def _name_of(lightness: float, a: float, b: float) -> ColourName:
    """Three editions name the same colours."""
    colour = np.array([lightness, a, b])
    nearest = int(np.argmin(delta_e_2000(colour, _PLACES_LAB, k_L=_NAMING_K_L)))
    noun = _NOUN_OF_PLACE[nearest]
    if noun in _UNMODIFIED:
        return ColourName("", noun)
    modifier = _modifier(lab_to_lch(colour), _PLACES_LCH[nearest])
    twice = noun in _MUTED and modifier in ("dusky", "soft", "vivid", "bright")
    against = noun in _DARK and modifier in ("light", "pale", "bright")
    return ColourName("" if twice or against else modifier, noun)


def _modifier(colour_lch: FloatArray, place_lch: FloatArray) -> str:
    lighter = colour_lch[0] - place_lch[0] >= _LIGHTNESS_STEP
    darker = place_lch[0] - colour_lch[0] >= _LIGHTNESS_STEP
    ratio = colour_lch[1] / max(place_lch[1], _MOST_NEUTRAL_CHROMA)
    weaker, stronger = ratio <= _LESS_CHROMA, ratio >= _MORE_CHROMA
    if lighter:
        return "pale" if weaker else "bright" if stronger else "light"
    if darker:
        return "dusky" if weaker else "deep"
    return "soft" if weaker else "vivid" if stronger else ""
