"""Colours that follow the page's light or dark scheme, and how they survive the drawing.

Decides which stand-in colour is drawn for each of the page's four neutral values, and the CSS that gives them
back. A drawing library can not write 'the ink of this page', so a chart is drawn in stand-ins that no hair
uses, and `vector` turns them into classes. Everything on the card is plain black, white or hair: the card is
the same grey in both schemes, so nothing on it may change either.
"""

from typing import Final

INK: Final = "#010101"
INK2: Final = "#010102"
PAPER: Final = "#010103"
CARD: Final = "#010104"

BLACK: Final = "#000000"
WHITE: Final = "#ffffff"
CARD_GREY: Final = "#767676"
RING_GREY: Final = "#8c8c8c"
"""Chroma rings: seen on the card, never mistaken for a measured line."""

TOKENS: Final = {INK: "ink", INK2: "ink2", PAPER: "paper", CARD: "card"}

_GRADIENT_STEM: Final = "#0102"

_FALLBACKS: Final = {"ink": "#161616", "ink2": "#4d4d4d", "paper": "#f0f0f0", "card": CARD_GREY}
_FORCED: Final = {"ink": "CanvasText", "ink2": "CanvasText", "paper": "Canvas", "card": CARD_GREY}


def gradient_stand_in(index: int) -> str:
    """The colour drawn in place of gradient `index`. ValueError beyond 255, which no chart needs."""
    if not 0 <= index <= 0xFF:
        raise ValueError(f"gradient {index}: a chart holds at most 256")
    return f"{_GRADIENT_STEM}{index:02x}"


def gradient_index(colour: str) -> int | None:
    """Which gradient a drawn colour stands for; None for an ordinary colour."""
    return int(colour[5:], 16) if colour.startswith(_GRADIENT_STEM) else None


def hair(hex_colour: str) -> str:
    """A hair colour as it may be drawn: nearly black hair must not be taken for a stand-in.

    >>> hair("#C8705A"), hair("#010203")
    ('#c8705a', '#000203')
    """
    colour = hex_colour.lower()
    return "#00" + colour[3:] if colour.startswith(("#0101", "#0102")) else colour


def _rules(values: dict[str, str]) -> str:
    return "".join(
        f".ch-fill-{name}{{fill:{value}}}.ch-stroke-{name}{{stroke:{value}}}"
        for name, value in values.items()
    )


CHART_CSS: Final = "\n".join(
    (
        ".ch{display:block;width:100%;height:auto;font-variant-numeric:tabular-nums;"
        'font-family:-apple-system,"Segoe UI Variable Text","Segoe UI",Roboto,"Noto Sans",sans-serif}',
        _rules({name: f"var(--{name},{value})" for name, value in _FALLBACKS.items()}),
        # The phone drawing may grow a little, but its letters should not outgrow the text around it.
        ".ch-phone{max-width:32rem}.ch-wide{display:none}",
        "@media (min-width:640px){.ch-phone{display:none}.ch-wide{display:block}}",
        "@media print{.ch-phone{display:none}.ch-wide{display:block}}",
        "@media (forced-colors:active){.ch{forced-color-adjust:none}" + _rules(_FORCED) + "}",
        "",
    )
)
"""Lines for the page's stylesheet. All class names start with `ch`; `--ink` and the others come from it."""
