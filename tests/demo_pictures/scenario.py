"""The demo client's fifteen weeks as a dated table of states: what each stretch of hair carries, and its
true colour.

A state follows one strand from the crown, scalp to tip, and the nape. Each stretch names its substrate,
the remaining share q of every colour on it and the Lab that follows. Everything is invented. Left out on
purpose: light, water and rubbing fade colour too, and the ends are followed as ends however much has been
cut off them. What the camera makes of it is left to the rest of the package.
"""

import math
from dataclasses import dataclass
from datetime import date

from tests.demo_pictures.spectra import dyed, linear_srgb
from tests.demo_pictures.srgb import lab_of_linear, to_hex

WASHES_PER_WEEK = 3
GROWTH_MM_PER_MONTH = 12.0
DAYS_PER_MONTH = 365.25 / 12
NAPE_CLIPPED_MM = 6.0
ENDS_MM = 80.0  # the ends are the last eight centimetres
FIRST_ROOTS_MM = 25.0  # what counted as roots when the whole head was coloured

CONSULTATION = date(2026, 2, 28)
LIGHTENED = date(2026, 3, 7)
GLOSS = date(2026, 4, 4)
ROOT_TOUCH_UP = date(2026, 4, 25)
VIOLET = date(2026, 5, 16)
LAST_VISIT = date(2026, 6, 13)
FIRST_LENGTH_MM = 260.0
TRIMS_MM = {GLOSS: 10.0, ROOT_TOUCH_UP: 20.0, LAST_VISIT: 12.0}

# First-order loss per wash down to a floor that stays: (rate per wash, floor) by band.
FADE = {
    "coral rose": {"roots": (0.060, 0.07), "mid-lengths": (0.070, 0.06), "ends": (0.100, 0.05),
                   "nape": (0.080, 0.06)},
    "rose gloss": {"mid-lengths": (0.080, 0.05), "ends": (0.110, 0.04)},
    "violet": {"roots": (0.065, 0.08), "mid-lengths": (0.070, 0.07), "ends": (0.100, 0.06)},
}  # fmt: skip
LEFT_AFTER_REMOVAL = {"mid-lengths": 0.42, "ends": 0.30}
LEFT_IN_RESIDUE = 0.85  # along the hairline and just above the nape the remover did less
VIOLET_UPTAKE_ON_NATURAL = 0.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A length of strand with one history; millimetres from the scalp, `to_mm` None meaning the tip."""

    band: str
    part: str
    from_mm: float
    to_mm: float | None
    substrate: str
    shares: tuple[tuple[str, float], ...] = ()

    @property
    def linear(self) -> tuple[float, float, float]:
        """True colour as linear sRGB (diffuse albedo)."""
        r, g, b = linear_srgb(dyed(self.substrate, dict(self.shares)))
        return float(r), float(g), float(b)

    @property
    def lab(self) -> tuple[float, float, float]:
        """True colour as CIELAB, D65."""
        lightness, a, b = lab_of_linear(self.linear)
        return round(float(lightness), 2), round(float(a), 2), round(float(b), 2)

    @property
    def hex(self) -> str:
        """True colour as sRGB text, clipped."""
        return to_hex(self.linear)


@dataclass(frozen=True, slots=True, kw_only=True)
class State:
    """The whole head at one moment; `strand` runs from the scalp, the last stretch being the ends."""

    key: str
    day: date
    moment: str
    length_mm: float
    strand: tuple[Stretch, ...]
    nape: Stretch
    residue: Stretch | None = None

    def band(self, name: str) -> Stretch:
        """The stretch a reading called `name` is taken on: for the roots, the one at the scalp."""
        return next(s for s in (*self.strand, self.nape) if name in (s.band, s.part))


def washes_between(start: date, end: date) -> float:
    """Washes from `start` to `end`, at three a week."""
    return (end - start).days / 7 * WASHES_PER_WEEK


def growth_mm(start: date, end: date) -> float:
    """New hair grown from `start` to `end`."""
    return (end - start).days / DAYS_PER_MONTH * GROWTH_MM_PER_MONTH


def remaining_share(bowl: str, band: str, laid: date, day: date) -> float:
    """q of a colour laid on `laid`, by the washes since (before any removal)."""
    rate_per_wash, floor = FADE[bowl][band]
    return floor + (1 - floor) * math.exp(-rate_per_wash * washes_between(laid, day))


def length_mm(day: date, after_trim: bool) -> float:
    """Length at the crown on a day, before or after that day's trim."""
    cut = sum(mm for when, mm in TRIMS_MM.items() if when < day or (when == day and after_trim))
    return FIRST_LENGTH_MM + growth_mm(LIGHTENED, max(day, LIGHTENED)) - cut


def _old_colour(band: str, day: date, *, gloss: bool, removed: bool) -> dict[str, float]:
    kept = LEFT_AFTER_REMOVAL[band] if removed else 1.0
    shares = {"coral rose": kept * remaining_share("coral rose", band, LIGHTENED, day)}
    if gloss:
        shares["rose gloss"] = kept * remaining_share("rose gloss", band, GLOSS, day)
    return shares


def _long_stretches(day: date, from_mm: float, *, gloss: bool, removed: bool, violet: bool,
                    coloured: bool, length: float) -> list[Stretch]:  # fmt: skip
    """Mid-lengths and ends."""
    out = []
    edges = {"mid-lengths": (from_mm, length - ENDS_MM), "ends": (length - ENDS_MM, None)}
    for band, (start, end) in edges.items():
        shares = _old_colour(band, day, gloss=gloss, removed=removed) if coloured else {}
        if violet:
            shares["violet"] = remaining_share("violet", band, VIOLET, day)
        substrate = "lightened 9, paler ends" if band == "ends" else "lightened 9"
        out.append(Stretch(band=band, part=band, from_mm=start, to_mm=end, substrate=substrate,
                           shares=tuple(shares.items())))  # fmt: skip
    return out


def _root_stretches(day: date, *, touched_up: bool, coloured: bool, violet: bool) -> list[Stretch]:
    """From the scalp: new growth, then what was roots when it was last coloured."""

    def stretch(part: str, start: float, end: float, substrate: str, shares: dict[str, float]) -> Stretch:
        return Stretch(band="roots", part=part, from_mm=start, to_mm=end, substrate=substrate,
                       shares=tuple(shares.items()))  # fmt: skip

    out, at = [], 0.0
    fresh = growth_mm(VIOLET if violet else ROOT_TOUCH_UP if touched_up else LIGHTENED, day)
    if fresh > 0:
        out.append(stretch("new growth", 0.0, fresh, "natural 5", {}))
        at = fresh
    if violet:
        width = growth_mm(ROOT_TOUCH_UP, VIOLET)
        q = VIOLET_UPTAKE_ON_NATURAL * remaining_share("violet", "roots", VIOLET, day)
        out.append(stretch("violet on natural", at, at + width, "natural 5", {"violet": q}))
        at += width
    if touched_up:
        width = growth_mm(LIGHTENED, ROOT_TOUCH_UP)
        shares = {"coral rose": remaining_share("coral rose", "roots", ROOT_TOUCH_UP, day)}
        if violet:
            shares["violet"] = remaining_share("violet", "roots", VIOLET, day)
        out.append(stretch("touched-up roots", at, at + width, "lightened 9", shares))
        return out
    shares = {"coral rose": remaining_share("coral rose", "roots", LIGHTENED, day)} if coloured else {}
    out.append(stretch("coloured roots", at, at + FIRST_ROOTS_MM, "lightened 9", shares))
    return out


def _nape(moment: str, day: date) -> Stretch:
    """Clipped short at the first visit and coloured with the rest; the colour is cut away four weeks
    later.
    """

    def stretch(start: float, end: float, substrate: str, shares: dict[str, float]) -> Stretch:
        return Stretch(band="nape", part="nape", from_mm=start, to_mm=end, substrate=substrate,
                       shares=tuple(shares.items()))  # fmt: skip

    if day < LIGHTENED:
        return stretch(0.0, 180.0, "natural 5", {})
    if day < GLOSS or (day == GLOSS and moment == "before"):
        grown = growth_mm(LIGHTENED, day)
        q = remaining_share("coral rose", "nape", LIGHTENED, day)
        shares = {} if moment == "lightened" else {"coral rose": q}
        return stretch(grown, grown + NAPE_CLIPPED_MM, "lightened 9", shares)
    visits = [
        d for d in (GLOSS, ROOT_TOUCH_UP, VIOLET, LAST_VISIT) if d < day or (d == day and moment != "before")
    ]
    return stretch(0.0, NAPE_CLIPPED_MM + growth_mm(max(visits), day), "natural 5", {})


def _untouched() -> State:
    ends = FIRST_LENGTH_MM - ENDS_MM
    strand = (
        Stretch(band="roots", part="new growth", from_mm=0, to_mm=25, substrate="natural 5"),
        Stretch(band="mid-lengths", part="mid-lengths", from_mm=25, to_mm=ends, substrate="natural 5"),
        Stretch(band="ends", part="ends", from_mm=ends, to_mm=None,
                substrate="natural 5, ends lighter from old sun"),
    )  # fmt: skip
    return State(key=f"{CONSULTATION} before", day=CONSULTATION, moment="before", length_mm=FIRST_LENGTH_MM,
                 strand=strand, nape=_nape("before", CONSULTATION))  # fmt: skip


def _state(day: date, moment: str) -> State:
    after = moment in ("after", "colour removed", "lightened")
    removed = day > VIOLET or (day == VIOLET and after)
    violet = day > VIOLET or (day == VIOLET and moment == "after")
    touched_up = day > ROOT_TOUCH_UP or (day == ROOT_TOUCH_UP and after)
    gloss = day > GLOSS or (day == GLOSS and after)
    coloured = moment != "lightened"
    length = length_mm(day, after_trim=after)
    roots = _root_stretches(day, touched_up=touched_up, coloured=coloured, violet=violet)
    tip = float(roots[-1].to_mm or 0.0)
    long = _long_stretches(day, tip, gloss=gloss, removed=removed, violet=violet, coloured=coloured,
                           length=length)  # fmt: skip
    residue = None
    if removed:
        old = _old_colour("mid-lengths", day, gloss=True, removed=False)
        shares = {bowl: q * LEFT_IN_RESIDUE for bowl, q in old.items()}
        if violet:
            shares["violet"] = remaining_share("violet", "mid-lengths", VIOLET, day)
        residue = Stretch(band="mid-lengths", part="residue", from_mm=tip, to_mm=None,
                          substrate="lightened 9", shares=tuple(shares.items()))  # fmt: skip
    return State(key=f"{day} {moment}", day=day, moment=moment, length_mm=length, strand=(*roots, *long),
                 nape=_nape(moment, day), residue=residue)  # fmt: skip


STATES: tuple[State, ...] = (
    _untouched(),
    _state(LIGHTENED, "lightened"),
    _state(LIGHTENED, "after"),
    _state(date(2026, 3, 21), "home"),
    _state(GLOSS, "before"),
    _state(GLOSS, "after"),
    _state(date(2026, 4, 18), "home"),
    _state(ROOT_TOUCH_UP, "before"),
    _state(ROOT_TOUCH_UP, "after"),
    _state(date(2026, 5, 9), "home"),
    _state(VIOLET, "colour removed"),
    _state(VIOLET, "after"),
    _state(date(2026, 5, 30), "home"),
    _state(date(2026, 6, 6), "home"),
    _state(LAST_VISIT, "before"),
    _state(LAST_VISIT, "after"),
)
BY_KEY = {state.key: state for state in STATES}
