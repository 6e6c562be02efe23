"""Style declarations turned into presentation attributes, and numbers into few digits.

Decides which declarations a page keeps: paint, line shape, text size, weight and anchor. Fonts are the page's
own; the library writes them in one piece or singly, both are understood.
"""

import re

_KEPT = (
    "fill",
    "fill-rule",
    "stroke",
    "stroke-width",
    "stroke-dasharray",
    "stroke-linecap",
    "stroke-linejoin",
    "text-anchor",
    "font-size",
    "font-weight",
)
_DEFAULTS = {
    "fill-rule": "nonzero",
    "stroke-linejoin": "round",
    "stroke-linecap": "butt",
    "font-weight": "400",
    "text-anchor": "start",
    "stroke-width": "1",
}
"""What holds anyway, in SVG or by the root element's own attribute."""
_NUMBER = re.compile(r"-?\d+\.\d+(?:e-?\d+)?")
_LONG_NEUTRAL = re.compile(r"#([0-9a-f])\1([0-9a-f])\2([0-9a-f])\3")


def presentation(style: str) -> dict[str, str]:
    """The declarations of a style attribute that are kept, as attributes.

    >>> presentation("fill: #ffffff; opacity: 1; font: 700 13px 'Some Face', serif")
    {'fill': '#fff', 'font-size': '13', 'font-weight': '700'}
    """
    pairs = (piece.partition(":") for piece in style.split(";"))
    declared = {key.strip(): value.strip() for key, colon, value in pairs if colon}
    if "font" in declared:
        declared |= _font_parts(declared.pop("font"))
    kept = {key: _shortest(declared[key]) for key in _KEPT if key in declared}
    return {key: value for key, value in kept.items() if _DEFAULTS.get(key) != value}


def rounded(text: str, decimals: int = 1) -> str:
    """Numbers cut to so many decimals, blanks and line breaks that SVG does not need taken out."""
    fewer = _NUMBER.sub(lambda found: short(float(found.group()), decimals), text)
    return re.sub(r"\s*([MLCQZz])\s*", r"\1", " ".join(fewer.split()))


def path_data(text: str, decimals: int = 1) -> str:
    """A path with short numbers, level and upright lines written with one number instead of two.

    >>> path_data("M 0.04 12.26 L 3.5 12.3 L 3.5 4.999 z")
    'M0 12.3H3.5V5z'
    """
    written = ""
    at: list[str] = []
    for command, numbers in re.findall(r"([A-Za-z])([^A-Za-z]*)", rounded(text, decimals)):
        to = numbers.split()
        if command == "L" and to[0] == at[0]:
            written += f"V{to[1]}"
        elif command == "L" and to[1] == at[1]:
            written += f"H{to[0]}"
        else:
            written += command + numbers
        # After a closed figure the library always moves on, so the old point is never asked for again.
        at = to[-2:] if to else at
    return written


def short(value: float, decimals: int = 1) -> str:
    """A number in as few characters as it takes.

    >>> short(12.0), short(-0.01), short(0.456, 2)
    ('12', '0', '0.46')
    """
    text = f"{value:.{decimals}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _shortest(value: str) -> str:
    value = rounded(value).removesuffix("px")
    whole = _LONG_NEUTRAL.fullmatch(value)
    return f"#{whole.group(1)}{whole.group(2)}{whole.group(3)}" if whole else value


def _font_parts(shorthand: str) -> dict[str, str]:
    """Size and weight from `font: 700 13px 'Some Face'`."""
    size = re.search(r"(?:^|\s)([\d.]+px)", shorthand)
    if size is None:
        return {}
    weight = re.search(r"\b(bold|[1-9]00)\b", shorthand[: size.start(1)])
    parts = {"font-size": size.group(1)}
    return parts | ({"font-weight": weight.group(1).replace("bold", "700")} if weight else {})
