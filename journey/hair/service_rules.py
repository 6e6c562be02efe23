"""What each kind of service may and may not do: small rules over the facts of one service.

Decides whether a service, done or planned, goes against what the trade knows about its kind.  What the
client brings with her (age, reactions, tests, medicines) is left to the cautions of the study; grams
against ratios and the legal limit, to ``bowl_checks``.  Products' instructions, local codes and licensed
practice stand above every rule here.

``RULES`` lists them in the order in which they are told.  A rule whose facts are not known stays silent.
One that speaks gives the numbers of its sentence; the words are the theme's.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from journey.hair.condition import MECHANICS, MOST_WET_STRETCH_PERCENT
from journey.hair.level import SAFE_STEP_LEVELS
from journey.hair.removal import MINUTES_FOR_DIRECT, PRACTICE, SECTION_CM

SERVICE_KINDS = (
    "lighten",
    "direct colour",
    "demi",
    "permanent",
    "gloss",
    "toner",
    "colour removal",
    "bond protection",
    "treatment",
    "trim",
    "extensions in",
    "extensions out",
)

DEPOSIT_KINDS = ("direct colour", "demi", "gloss", "toner")
"""Kinds that add colour and lift nothing."""

STOP, ASK, MIND = "stop", "ask", "mind"
"""Not before this is settled; find out first; keep in mind."""

OUTLINE = "cosmetology course outline (goconqr.com, mind map 7108852)"

USUAL_PARTS: dict[str, tuple[float, float]] = {
    "permanent": (1.0, 1.5),
    "demi": (2.0, 2.0),
    "lighten": (1.0, 2.0),
}
"""Parts of developer to one of colour or lightener, least and most, as a course outline teaches them:
permanent 1:1 or 1:1.5, semi and quasi 1:2, lightener 1:1 to 1:2.  A product's own ratio replaces it."""

USUAL_MINUTES = (20.0, 45.0)
"""Processing time by type, from the same outline."""

OFF_SCALP_VOLUMES = 30.0
"""Assumption: stronger than this stays off the scalp."""

SATURATION_SECTION_CM = 0.6
"""A quarter inch: widest section for full saturation with colour or lightener (from memory, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ServiceFacts:
    """What is known of one service; ``None`` where nobody noted it."""

    kind: str
    has_developer: bool | None = None
    volumes: float | None = None
    """Strength of the developer as it went into the bowl."""
    developer_parts: float | None = None
    """To one part of colour, clear, lightener and remover."""
    instructions_give_a_ratio: bool = False
    has_water: bool | None = None
    heat: bool = False
    minutes: float | None = None
    section_width_cm: float | None = None
    cross_checked: bool | None = None
    soaked: bool | None = None
    covered: bool | None = None
    """A remover while it worked."""
    reaches_scalp: bool = False
    present_level: float | None = None
    """Level under all coats, darkest place of the band."""
    target_level: float | None = None
    level_on_hair: float | None = None
    """How dark the colour on the hair looks now, where that was seen."""
    classes_on_hair: tuple[str, ...] = ()
    """Classes of the coats still standing on the band before the service."""
    lightened_before_cm: float = 0.0
    """Length within the band that met lightener on an earlier day."""
    bond_protection_before: bool | None = None
    """Whether bonds were protected earlier in the visit."""
    elasticity_wet_percent: float | None = None
    """Of the band, before the service."""
    added_hair: bool = False
    """Whether extensions are in on the zone."""
    safe_step_levels: float = SAFE_STEP_LEVELS
    most_wet_stretch_percent: float = MOST_WET_STRETCH_PERCENT
    off_scalp_volumes: float = OFF_SCALP_VOLUMES
    widest_section_cm: float = SATURATION_SECTION_CM
    usual_minutes: tuple[float, float] = USUAL_MINUTES

    def __post_init__(self) -> None:
        if self.kind not in SERVICE_KINDS:
            raise ValueError(f"{self.kind!r} is no kind of service; write {', '.join(SERVICE_KINDS)}")


Values = Mapping[str, float | str]


@dataclass(frozen=True, slots=True)
class ServiceRule:
    code: str
    weight: str
    """``stop``, ``ask`` or ``mind``, for a service that is still to be done."""
    source: str
    speaks: Callable[[ServiceFacts], Values | None]
    """The values of its sentence; ``None`` when nothing is wrong, or when the facts are not known."""


@dataclass(frozen=True, slots=True)
class Objection:
    """One rule a service goes against."""

    code: str
    weight: str
    values: Values
    source: str


def objections(facts: ServiceFacts) -> tuple[Objection, ...]:
    """Every rule this service goes against, in the order of ``RULES``."""
    spoken = ((rule, rule.speaks(facts)) for rule in RULES)
    return tuple(
        Objection(rule.code, rule.weight, values, rule.source) for rule, values in spoken if values is not None
    )


# ------------------------------------------------------------------------ hair that is not fit


def _stretches_too_far(facts: ServiceFacts) -> Values | None:
    stretch = facts.elasticity_wet_percent
    acts = facts.kind in ("lighten", "permanent") or facts.has_developer
    if not acts or stretch is None or stretch <= facts.most_wet_stretch_percent:
        return None
    return {"percent": stretch, "limit": facts.most_wet_stretch_percent}


# --------------------------------------------------------------------------------- lightener


def _heat_with_lightener(facts: ServiceFacts) -> Values | None:
    if facts.kind != "lighten" or not facts.heat:
        return None
    return {}


def _overlap(facts: ServiceFacts) -> Values | None:
    if facts.kind != "lighten" or facts.lightened_before_cm <= 0.1:
        return None
    return {"cm": facts.lightened_before_cm}


def _bonds_before_lightener(facts: ServiceFacts) -> Values | None:
    if facts.kind != "lighten" or facts.bond_protection_before is not False:
        return None
    return {}


def _safe_step(facts: ServiceFacts) -> Values | None:
    if facts.kind != "lighten" or facts.target_level is None or facts.present_level is None:
        return None
    lift = facts.target_level - facts.present_level
    if lift <= facts.safe_step_levels:
        return None
    return {"levels": lift, "step": facts.safe_step_levels}


def _strong_on_scalp(facts: ServiceFacts) -> Values | None:
    if not facts.reaches_scalp or facts.volumes is None or facts.volumes <= facts.off_scalp_volumes:
        return None
    return {"volumes": facts.volumes, "limit": facts.off_scalp_volumes}


# ----------------------------------------------------------------------------------- colour


def _deposit_does_not_lift(facts: ServiceFacts) -> Values | None:
    if facts.kind not in DEPOSIT_KINDS or facts.target_level is None or facts.present_level is None:
        return None
    if facts.target_level <= facts.present_level:
        return None
    return {"level": facts.present_level, "wanted": facts.target_level}


def _colour_does_not_lift_colour(facts: ServiceFacts) -> Values | None:
    colours = facts.kind in DEPOSIT_KINDS or facts.kind == "permanent"
    if not colours or facts.target_level is None or facts.level_on_hair is None or not facts.classes_on_hair:
        return None
    if facts.target_level <= facts.level_on_hair:
        return None
    return {"level": facts.level_on_hair, "wanted": facts.target_level}


def _direct_without_developer(facts: ServiceFacts) -> Values | None:
    if facts.kind != "direct colour" or not facts.has_developer:
        return None
    return {}


def _oxidative_with_developer(facts: ServiceFacts) -> Values | None:
    if facts.kind not in ("permanent", "demi") or facts.has_developer is not False:
        return None
    return {}


# ------------------------------------------------------------------------------ taking it off


def _remover_lifts_nothing(facts: ServiceFacts) -> Values | None:
    if facts.kind != "colour removal" or facts.has_developer is not False:
        return None
    if facts.target_level is None or facts.present_level is None or facts.target_level <= facts.present_level:
        return None
    return {"level": facts.present_level, "wanted": facts.target_level}


def _remover_and_class(facts: ServiceFacts) -> Values | None:
    if facts.kind != "colour removal" or facts.has_developer is not False:
        return None
    return {} if any(name in ("demi", "permanent") for name in facts.classes_on_hair) else None


def _remover_with_developer_over_lightened(facts: ServiceFacts) -> Values | None:
    if facts.kind != "colour removal" or not facts.has_developer or facts.lightened_before_cm <= 0.1:
        return None
    return {"cm": facts.lightened_before_cm}


def _remover_minutes(facts: ServiceFacts) -> Values | None:
    if facts.kind != "colour removal" or facts.minutes is None or facts.has_developer:
        return None
    least, most = MINUTES_FOR_DIRECT
    if least <= facts.minutes <= most:
        return None
    return {"minutes": facts.minutes, "least": float(least), "most": float(most)}


def _remover_sections(facts: ServiceFacts) -> Values | None:
    width = facts.section_width_cm
    if facts.kind != "colour removal" or width is None or width <= SECTION_CM + 0.05:
        return None
    return {"cm": width, "limit": SECTION_CM}


def _remover_air(facts: ServiceFacts) -> Values | None:
    """A remover works soaking wet and open to the air; dry or covered it leaves colour behind."""
    if facts.kind != "colour removal" or (facts.soaked is not False and facts.covered is not True):
        return None
    return {}


def _remover_water(facts: ServiceFacts) -> Values | None:
    if facts.kind != "colour removal" or facts.has_developer or facts.has_water is not False:
        return None
    return {}


# -------------------------------------------------------------------------------- every bowl


def _added_hair(facts: ServiceFacts) -> Values | None:
    worked = facts.kind in ("lighten", "permanent", "colour removal") or facts.kind in DEPOSIT_KINDS
    return {} if worked and facts.added_hair else None


def _usual_parts(facts: ServiceFacts) -> Values | None:
    usual = USUAL_PARTS.get(facts.kind)
    if usual is None or facts.developer_parts is None or facts.instructions_give_a_ratio:
        return None
    least, most = usual
    if 0.95 * least <= facts.developer_parts <= 1.05 * most:
        return None
    usual_text = f"1:{least:g}" if least == most else f"1:{least:g} – 1:{most:g}"
    return {"parts": facts.developer_parts, "usual": usual_text}


def _usual_minutes(facts: ServiceFacts) -> Values | None:
    if facts.kind not in ("permanent", "demi", "lighten") or facts.minutes is None:
        return None
    least, most = facts.usual_minutes
    if facts.minutes <= most and (facts.kind == "lighten" or facts.minutes >= least):
        return None  # lightener is rinsed when the level is there, however soon
    return {"minutes": facts.minutes, "least": least, "most": most}


def _sections(facts: ServiceFacts) -> Values | None:
    width = facts.section_width_cm
    if facts.kind == "colour removal" or width is None or width <= facts.widest_section_cm + 0.05:
        return None
    return {"cm": width, "limit": facts.widest_section_cm}


def _cross_check(facts: ServiceFacts) -> Values | None:
    if facts.cross_checked is not False:
        return None
    return {}


RULES: tuple[ServiceRule, ...] = (
    ServiceRule("stretches-too-far", STOP, MECHANICS, _stretches_too_far),
    ServiceRule("heat-with-lightener", STOP, PRACTICE, _heat_with_lightener),
    ServiceRule("lightener-over-lightened", STOP, PRACTICE, _overlap),
    ServiceRule("bonds-before-lightener", MIND, PRACTICE, _bonds_before_lightener),
    ServiceRule("safe-step", ASK, "the salon's own limit", _safe_step),
    ServiceRule("strong-on-scalp", STOP, PRACTICE, _strong_on_scalp),
    ServiceRule("deposit-does-not-lift", STOP, PRACTICE, _deposit_does_not_lift),
    ServiceRule("colour-does-not-lift-colour", STOP, PRACTICE, _colour_does_not_lift_colour),
    ServiceRule("direct-without-developer", ASK, PRACTICE, _direct_without_developer),
    ServiceRule("oxidative-with-developer", ASK, PRACTICE, _oxidative_with_developer),
    ServiceRule("remover-lifts-nothing", STOP, PRACTICE, _remover_lifts_nothing),
    ServiceRule("remover-and-class", ASK, PRACTICE, _remover_and_class),
    ServiceRule("remover-over-lightened", ASK, PRACTICE, _remover_with_developer_over_lightened),
    ServiceRule("remover-minutes", MIND, PRACTICE, _remover_minutes),
    ServiceRule("remover-sections", MIND, PRACTICE, _remover_sections),
    ServiceRule("remover-water", MIND, PRACTICE, _remover_water),
    ServiceRule("remover-air", MIND, PRACTICE, _remover_air),
    ServiceRule("added-hair", ASK, PRACTICE, _added_hair),
    ServiceRule("usual-ratio", MIND, OUTLINE, _usual_parts),
    ServiceRule("usual-minutes", MIND, OUTLINE, _usual_minutes),
    ServiceRule("sections", MIND, "from memory, no source", _sections),
    ServiceRule("cross-check", MIND, PRACTICE, _cross_check),
)
