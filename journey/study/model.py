"""What the record means: frozen results of every computation, each number able to say where it is from.

Values here still carry the record's own keys and days; what an audience may see of them is decided in
`journey.edition`. A number that could not be had is an `Absent` with its reason, never a guess.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from journey.colour.calibrate import Calibration
from journey.colour.fade_path import FadePath
from journey.colour.framing import Outline
from journey.colour.grey_scale import GreyScaleGrade
from journey.colour.photo_checks import PhotoCheck
from journey.colour.reading_limits import DetectionLimit, Uncertainty
from journey.colour.reason import Reason, Value
from journey.hair.absent import Absent
from journey.hair.condition import ConditionAdvice
from journey.hair.fade import FadePosterior
from journey.hair.growth import GrowthRate
from journey.hair.interval import Interval
from journey.record.rectangle import Rectangle
from journey.study.place import Lab as Lab
from journey.study.place import Place as Place
from journey.study.plan_model import OptionStudy as OptionStudy
from journey.study.plan_model import Prediction as Prediction
from journey.study.plan_model import RemovalCheck, RemovalStudy, TouchUp
from journey.study.strand_model import AddedHair as AddedHair
from journey.study.strand_model import DateRange as DateRange
from journey.study.strand_model import Line as Line
from journey.study.strand_model import StrandStudy as StrandStudy
from journey.study.unread import UnreadPatch

MEAN_PER_LIMIT = 0.42
"""Mean error of a reading over its detection limit: simulated repeat readings of unchanged hair spread so
that the 95 % limit is about 2.4 times the mean (see the accuracy tables)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One number as it can be traced: `journey trace` prints exactly this."""

    key: str
    value: float | str | Reason
    unit: str = ""
    """A word that stands in the theme under `phrase`, or a sign of its own."""
    low: float | None = None
    high: float | None = None
    method: Reason
    formula: Reason | None = None
    inputs: tuple[str, ...] = ()
    """Keys of other findings it was computed from."""
    sources: tuple[str, ...] = ()
    """Places in the record: 'journey.visits[2].photos[0].patches[1]'."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """One visit or check-in as a point in time."""

    key: str
    day: date
    is_visit: bool
    week: float
    washes: float
    """Washes since the first visit, counted or estimated."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """The colour of one patch on one photo."""

    key: str
    """'photo-key.zone.band'; the key of its finding too."""
    photo: str
    entry: str
    day: date
    stage: str
    """before, lightened, removed, after or home."""
    view: str
    """What the photo shows, as the stylist named it: only like views are compared over time."""
    rect: Rectangle
    place: Place
    from_afar_lab: Lab
    """Linear mean of all strands: what the eye sees from a metre. Feeds comparison with magnified photos."""
    body_lab: Lab
    """Least sheen in a luminance window: what the fibre itself is. Feeds fade, paths and names."""
    uncertainty: Uncertainty
    limit: DetectionLimit
    light: str
    """The lamp as the stylist named it: two photos of one name count as the same lamp."""
    calibration: str
    """'chart', 'grey card', 'lamp profile' or 'none'."""
    clipped_share: float
    weak: tuple[Reason, ...]
    """Reasons why it counts for less; empty when sound."""
    trend_only: bool

    @property
    def mean_error(self) -> float:
        """Mean CIEDE2000 by which such a reading is off, from its detection limit under another lamp."""
        return MEAN_PER_LIMIT * self.limit.other_lamp


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoStudy:
    """How one photo could be used for measuring."""

    photo: str
    entry: str
    calibration: Calibration
    checks: tuple[PhotoCheck, ...]
    readings: tuple[Reading, ...]
    unread: tuple[UnreadPatch, ...] = ()
    day: date
    light: str
    view: str
    outline: Outline
    """What runs where in the frame: with it the same view at the next visit is compared."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """How far two readings of one place lie apart."""

    place: Place
    earlier: str
    later: str
    """Keys of readings."""
    delta_e_2000: float
    """With k_L = 1.5: photos repeat lightness less well than hue."""
    lightness: float
    chroma: float
    hue: float
    grade: GreyScaleGrade
    grade_if_more: GreyScaleGrade
    grade_if_less: GreyScaleGrade
    """What it may be as well: the difference larger or smaller by `limit`."""
    limit: float
    """CIEDE2000 that 95 % of two such readings of unchanged hair stay below."""
    distinguishable: bool
    """Whether the difference is larger than that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fade:
    """The course of one colour on one place, from its service to the next."""

    key: str
    """'service-key.zone.band'."""
    service: str
    label: str
    colour_class: str
    place: Place
    applied: date
    until: date | None
    """Day of the next service that changed it; None while it is the one on the hair."""
    substrate_lab: Lab
    substrate_from: Reason
    """Which photo, or which assumption."""
    dyed_lab: Lab
    fresh: str
    """Key of the reading right after the service."""
    path: FadePath
    posterior: FadePosterior
    measured: tuple[tuple[date, float, Interval, str], ...]
    """(day, washes since the service, share with interval, reading key)."""
    left_out: tuple[tuple[str, Reason], ...]
    """(reading key, reason) of readings that say nothing about this colour."""
    share_now: Interval | Absent
    prior_from: Reason


@dataclass(frozen=True, slots=True, kw_only=True)
class WashWhatIf:
    washes_a_week: int
    window: tuple[date, date] | Absent
    probability_never: float


@dataclass(frozen=True, slots=True, kw_only=True)
class RefreshStudy:
    place: Place
    fade: str
    window: tuple[date, date] | Absent
    """From the day the median share passes the salon's upper mark to the day it passes the lower one."""
    earliest: date | None
    latest: date | None
    """Ends of the 80 % interval of the upper mark's day."""
    probability_never: float
    """Chance that it never falls below the lower mark: the colour stains."""
    what_if: tuple[WashWhatIf, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AfarComparison:
    """A mixture of magnified strands against an ordinary photo, both from afar: the mean of all their light."""

    delta_e_2000: float
    """With k_L = 1.5: one strand over bright ground lets more light through than hair in a mass."""
    lightness: float
    chroma: float
    hue: float
    """Mixture minus ordinary photo, CIELAB."""
    within_90: float
    """CIEDE2000 by which both readings and so few strands may be off together."""

    @property
    def agrees(self) -> bool:
        """Whether the difference is no more than what is uncertain about it."""
        return self.delta_e_2000 <= self.within_90


@dataclass(frozen=True, slots=True, kw_only=True)
class FibreStudy:
    """Single strands under magnification, and what they make together."""

    photo: str
    entry: str
    place: Place
    labs: tuple[Lab, ...]
    shares: tuple[float, ...]
    declared: bool
    from_afar_lab: Lab
    ordinary: str | None
    """Key of the ordinary photo's reading it is compared with."""
    difference: AfarComparison | Absent
    calibration: str
    uncertainty: Uncertainty
    """Of a colour in this picture."""
    strands_seen: float
    """About how many lie side by side in the field, at least one for each colour."""
    um_per_px: float | Absent
    fibre_width_um: Interval | Absent
    warnings: tuple[Reason, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class ConditionStudy:
    """How one place felt at one visit, as advice."""

    entry: str
    place: Place
    advice: tuple[ConditionAdvice, ...]
    """Gravest first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BowlStudy:
    service: str
    entry: str
    total_g: float
    pure_share: float | Absent
    share_in_water: float | Absent
    ratio: str | Absent
    peroxide_percent: float | Absent
    left_over_g: float | Absent
    cost: float | Absent
    cautions: tuple[Reason, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shade:
    """One of the salon's colours laid undiluted over today's hair."""

    product: str
    name: str
    lab: Lab
    swatch_lab: Lab
    delta_e: float
    """CIEDE2000 between what it would give here and on its own swatch."""
    becomes: str
    """Key of the colour's name over this hair."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LiftStudy:
    zone: str
    natural_level: float
    lifted_level: float | None
    undertone: str
    neutraliser: str
    shows_true: tuple[Shade, ...]
    """The salon's colours that keep their hue over today's hair."""
    turns: tuple[Shade, ...]
    """Those that would come out as another colour."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Advice:
    """One home-care rule that applies: words are looked up by `rule`, with `values` filled in."""

    rule: str
    values: Mapping[str, str | float | date]
    gain_days: int | None = None
    do: str | None = None
    because: str | None = None
    """Set when the salon wrote its own words."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    rule: str
    weight: str
    """'stop', 'ask' or 'mind'."""
    values: Mapping[str, Value]
    source: str
    about: str = ""
    """Entry or option it belongs to; empty when it holds for the whole journey."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Study:
    as_of: date
    start: date
    moments: tuple[Moment, ...]
    photos: tuple[PhotoStudy, ...]
    readings: tuple[Reading, ...]
    """All of them, in order of day and photo."""
    changes: tuple[Change, ...]
    fades: tuple[Fade, ...]
    refresh: RefreshStudy | Absent
    strands: tuple[StrandStudy, ...]
    fibres: tuple[FibreStudy, ...]
    unread: tuple[UnreadPatch, ...]
    """Marked patches that could not be read, then magnified photos."""
    conditions: tuple[ConditionStudy, ...]
    bowls: tuple[BowlStudy, ...]
    lift: tuple[LiftStudy, ...]
    removals: tuple[RemovalStudy, ...]
    """Taking off what is on the hair today, place by place."""
    removal_checks: tuple[RemovalCheck, ...]
    """Removals of the past, foretold against read."""
    removal_residue: tuple[Reason, ...]
    """Where the last one may have left colour behind."""
    touch_ups: tuple[TouchUp, ...]
    options: tuple[OptionStudy, ...]
    advice: tuple[Advice, ...]
    cautions: tuple[Caution, ...]
    findings: Mapping[str, Finding]
    leading: Place
    """The place that headlines follow: mid-lengths of the first zone that has them."""
    places: tuple[Place, ...]
    """Every place that was read, zone by zone from scalp to tip."""
    rate: GrowthRate
