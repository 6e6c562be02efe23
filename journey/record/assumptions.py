"""What is taken for granted until a salon knows better, each changed by its key in salon.yaml.

Defaults stand beside what uses them, with their source; here they get the name by which they are changed.
"""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from journey.colour.layering import UPTAKE
from journey.colour.micro_scale import SCALE_ERROR
from journey.colour.photo_checks import MOST_PROFILE_DAYS
from journey.colour.reading_limits import ORDINARY_UNEVENNESS, WEAKNESS_ADDS
from journey.hair.bowl_checks import RATIO_TOLERANCE, SUM_TOLERANCE_G
from journey.hair.condition import (
    LEAST_WET_STRETCH_PERCENT,
    MOST_WET_STRETCH_PERCENT,
    NOTABLE_CHANGE_PERCENT,
)
from journey.hair.fade import LOG_SD_WITHIN_CLIENT
from journey.hair.growth import OWN_RATE_SD_MM_PER_DAY, RULER_SD_CM, START_SD_CM
from journey.hair.level import CLEAN_BASE_LEVEL
from journey.hair.removal import REMOVER_EFFECT, THIN_SHARE
from journey.hair.service_rules import OFF_SCALP_VOLUMES, SATURATION_SECTION_CM, USUAL_MINUTES
from journey.hair.strand import LIGHTENER_LEAVES
from journey.record.fields import Hex, Level, Number, Share, WeeklyCount, WholeNumber
from journey.record.parts import ColourClass, Part

Positive = Annotated[Number, Field(gt=0, lt=1000)]
Step = Annotated[WholeNumber, Field(ge=1, le=10)]


class ClassFade(Part):
    """How fast a class of colour fades before any photo says so."""

    colour_class: ColourClass
    half_after_washes: Positive
    """Washes after which half is left, in the middle of all heads."""
    spread: Positive | None = None
    """How widely heads lie around that, as the standard deviation of ln k; left out, as usual."""


class LevelColour(Part):
    """What a level looks like here, read from a swatch or a strand."""

    level: Step
    natural: Hex | None = None
    """Hair of that level that was never lightened."""
    lightened: Hex | None = None
    """Hair lightened to it."""


class Assumptions(Part):
    uptake_spread: Share = UPTAKE[2] - 1
    """How much more, or less, than its swatch a colour may take on other hair."""
    remover_spread: Share = REMOVER_EFFECT[2] - 1
    """How much more, or less, than expected a remover may do."""
    stain_share: Share = THIN_SHARE
    """With no more than this left a colour is a stain that the next step copes with."""
    lightener_leaves: Share = LIGHTENER_LEAVES["direct"]
    """Share of a direct or acid colour still there after a lightener."""
    fading: tuple[ClassFade, ...] = ()
    """Classes of colour that fade faster or slower here than is usual."""
    levels: tuple[LevelColour, ...] = ()
    """Levels whose colour is known here."""
    level_error: Positive = 6.0
    """Mean CIEDE2000 between one person's hair at a level and the usual colour of that level."""
    other_zone_error: Positive = 2.0
    """Mean CIEDE2000 that borrowing the lightened hair of another zone adds."""
    clean_base_level: Level = CLEAN_BASE_LEVEL
    """Level from which a pastel or a clear violet, blue or silver shows clear."""
    muddy_below_chroma: Positive = 14.0
    """Below this chroma a colour that was meant to be one reads as grey or brown."""
    darker_by_levels: Positive = 2.0
    """Levels by which a planned colour has to come out darker before it is worth a word."""
    turns_beyond: Positive = 15.0
    """CIEDE2000 from its swatch beyond which a colour has turned."""
    own_fades_spread: Positive = LOG_SD_WITHIN_CLIENT
    """How far the fades of one client differ among themselves, as the standard deviation of ln k."""
    light_spread: Share = ORDINARY_UNEVENNESS
    """How unevenly light falls on chart and hair in one photo, as a share."""
    weakness_adds: Positive = WEAKNESS_ADDS
    """Mean CIEDE2000 that whatever makes a reading weak adds to its error."""
    chart_holds_days: WholeNumber = MOST_PROFILE_DAYS
    """Days for which a chart photo tells its lamp and phone."""
    scale_error: Share = SCALE_ERROR
    """How far a magnifier's ruler or label may be off."""
    strand_width_um: Positive = 70.0
    """Width of a strand for counting them, in micrometres, where none could be measured."""
    hot_tool_celsius: Positive = 180.0
    """Above this a tool is called hot."""
    much_sun_hours: WeeklyCount = 3.0
    """Hours in the sun a week from which a hat is worth it."""
    rubs_off_days: WholeNumber = 10
    """Days for which a direct colour still rubs off on fabric."""
    most_wet_stretch: Share = MOST_WET_STRETCH_PERCENT / 100
    """Most a wet strand should give."""
    least_wet_stretch: Share = LEAST_WET_STRETCH_PERCENT / 100
    """Wet hair that gives less is stiff."""
    notable_stretch: Share = NOTABLE_CHANGE_PERCENT / 100
    """A change of stretch that is more than the hand's own error."""
    off_scalp_volumes: Positive = OFF_SCALP_VOLUMES
    """Developer stronger than this stays off the scalp."""
    widest_section_cm: Positive = SATURATION_SECTION_CM
    """Widest section that colour or lightener saturates."""
    least_minutes: Positive = USUAL_MINUTES[0]
    """Shortest usual processing time, where the product says nothing."""
    most_minutes: Positive = USUAL_MINUTES[1]
    """Longest usual processing time, where the product says nothing."""
    ratio_tolerance: Share = RATIO_TOLERANCE
    """A ratio within this share of what was meant is the same, poured by hand."""
    sum_tolerance_g: Positive = SUM_TOLERANCE_G
    """Grams by which a stated sum may miss, on a salon's scale."""
    ruler_error_cm: Positive = RULER_SD_CM
    """Standard error of a line between two colours read off a ruler."""
    start_error_cm: Positive = START_SD_CM
    """Standard error of how near to the scalp the colour was laid from which growth is counted."""
    written_growth_error: Positive = OWN_RATE_SD_MM_PER_DAY
    """Standard error, in mm a day, of a rate of growth that the stylist wrote down herself."""
