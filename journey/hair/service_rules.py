"""What each kind of service may and may not do: small rules over the facts of one service.

Decides whether a service, done or planned, goes against what the trade knows about its kind.  What the
client brings with her (age, reactions, tests, medicines) is left to the cautions of the study; grams
against ratios and the legal limit, to ``bowl_checks``.  Products' instructions, local codes and licensed
practice stand above every rule here.

``RULES`` lists them in the order in which they are told.  A rule whose facts are not known stays silent.
"""

from __future__ import annotations

from collections.abc import Callable
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

MUST_NOT, LOOK_AGAIN = "must not", "look again"

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
    safe_step_levels: float = SAFE_STEP_LEVELS

    def __post_init__(self) -> None:
        if self.kind not in SERVICE_KINDS:
            raise ValueError(f"{self.kind!r} is no kind of service; write {', '.join(SERVICE_KINDS)}")


@dataclass(frozen=True, slots=True)
class ServiceRule:
    code: str
    weight: str
    """``must not`` or ``look again``."""
    source: str
    speaks: Callable[[ServiceFacts], str | None]
    """What is wrong, as a sentence; ``None`` when nothing is, or when the facts are not known."""


@dataclass(frozen=True, slots=True)
class Objection:
    """One rule a service goes against."""

    code: str
    weight: str
    text: str
    source: str


def objections(facts: ServiceFacts) -> tuple[Objection, ...]:
    """Every rule this service goes against, in the order of ``RULES``."""
    spoken = ((rule, rule.speaks(facts)) for rule in RULES)
    return tuple(Objection(rule.code, rule.weight, text, rule.source) for rule, text in spoken if text)


# ------------------------------------------------------------------------ hair that is not fit


def _stretches_too_far(facts: ServiceFacts) -> str | None:
    stretch = facts.elasticity_wet_percent
    acts = facts.kind in ("lighten", "permanent") or facts.has_developer
    if not acts or stretch is None or stretch <= MOST_WET_STRETCH_PERCENT:
        return None
    return (
        f"wet hair stretched {stretch:g} %; beyond {MOST_WET_STRETCH_PERCENT:g} % it is weakened and should "
        f"not meet lightener or developer"
    )


# --------------------------------------------------------------------------------- lightener


def _heat_with_lightener(facts: ServiceFacts) -> str | None:
    if facts.kind != "lighten" or not facts.heat:
        return None
    return "heat makes lightener run away: swelling, breakage and burns; process at room temperature"


def _overlap(facts: ServiceFacts) -> str | None:
    if facts.kind != "lighten" or facts.lightened_before_cm <= 0.1:
        return None
    return (
        f"{facts.lightened_before_cm:.1f} cm of the band are lightened already; lighten the new growth only, "
        f"or after a strand test and for good reason"
    )


def _bonds_before_lightener(facts: ServiceFacts) -> str | None:
    if facts.kind != "lighten" or facts.bond_protection_before is not False:
        return None
    return "no bond protection was put on before the lightener"


def _safe_step(facts: ServiceFacts) -> str | None:
    if facts.kind != "lighten" or facts.target_level is None or facts.present_level is None:
        return None
    lift = facts.target_level - facts.present_level
    if lift <= facts.safe_step_levels:
        return None
    return f"{lift:g} levels in one session; this salon lifts at most {facts.safe_step_levels:g}"


def _strong_on_scalp(facts: ServiceFacts) -> str | None:
    if not facts.reaches_scalp or facts.volumes is None or facts.volumes <= OFF_SCALP_VOLUMES:
        return None
    return f"{facts.volumes:g} volumes on the scalp; stronger than {OFF_SCALP_VOLUMES:g} is kept off it"


# ----------------------------------------------------------------------------------- colour


def _deposit_does_not_lift(facts: ServiceFacts) -> str | None:
    if facts.kind not in DEPOSIT_KINDS or facts.target_level is None or facts.present_level is None:
        return None
    if facts.target_level <= facts.present_level:
        return None
    return (
        f"{facts.kind} adds colour and lifts nothing: the fibre is at level {facts.present_level:g}, "
        f"{facts.target_level:g} is wanted"
    )


def _colour_does_not_lift_colour(facts: ServiceFacts) -> str | None:
    colours = facts.kind in DEPOSIT_KINDS or facts.kind == "permanent"
    if not colours or facts.target_level is None or facts.level_on_hair is None or not facts.classes_on_hair:
        return None
    if facts.target_level <= facts.level_on_hair:
        return None
    return (
        f"colour does not lift colour: what is on the hair looks like level {facts.level_on_hair:g}, "
        f"{facts.target_level:g} is wanted; take it off first, or lighten"
    )


def _direct_without_developer(facts: ServiceFacts) -> str | None:
    if facts.kind != "direct colour" or not facts.has_developer:
        return None
    return "a direct colour needs no developer; developer in it opens the hair and lifts for nothing"


def _oxidative_with_developer(facts: ServiceFacts) -> str | None:
    if facts.kind not in ("permanent", "demi") or facts.has_developer is not False:
        return None
    return f"{facts.kind} colour develops with peroxide, and no developer is in the bowl"


# ------------------------------------------------------------------------------ taking it off


def _remover_lifts_nothing(facts: ServiceFacts) -> str | None:
    if facts.kind != "colour removal" or facts.has_developer is not False:
        return None
    if facts.target_level is None or facts.present_level is None or facts.target_level <= facts.present_level:
        return None
    return (
        f"a remover without developer lifts nothing natural: it uncovers level {facts.present_level:g} and "
        f"no more; {facts.target_level:g} is wanted"
    )


def _remover_and_class(facts: ServiceFacts) -> str | None:
    if facts.kind != "colour removal" or facts.has_developer is not False:
        return None
    held = [name for name in facts.classes_on_hair if name in ("demi", "permanent")]
    if not held:
        return None
    return f"{held[-1]} colour is on the hair; a remover without developer takes direct and acid colour only"


def _remover_with_developer_over_lightened(facts: ServiceFacts) -> str | None:
    if facts.kind != "colour removal" or not facts.has_developer or facts.lightened_before_cm <= 0.1:
        return None
    return (
        f"developer in the remover meets {facts.lightened_before_cm:.1f} cm of lightened hair; direct colour "
        f"comes off without it"
    )


def _remover_minutes(facts: ServiceFacts) -> str | None:
    if facts.kind != "colour removal" or facts.minutes is None or facts.has_developer:
        return None
    least, most = MINUTES_FOR_DIRECT
    if least <= facts.minutes <= most:
        return None
    return f"remover was on for {facts.minutes:g} minutes; direct colour takes {least} to {most}"


def _remover_sections(facts: ServiceFacts) -> str | None:
    width = facts.section_width_cm
    if facts.kind != "colour removal" or width is None or width <= SECTION_CM + 0.05:
        return None
    return f"sections of {width:g} cm; remover soaks through half an inch ({SECTION_CM:g} cm)"


def _remover_water(facts: ServiceFacts) -> str | None:
    if facts.kind != "colour removal" or facts.has_developer or facts.has_water is not False:
        return None
    return "no water is in the bowl; remover of direct colour is mixed with deionised water"


# -------------------------------------------------------------------------------- every bowl


def _usual_parts(facts: ServiceFacts) -> str | None:
    usual = USUAL_PARTS.get(facts.kind)
    if usual is None or facts.developer_parts is None or facts.instructions_give_a_ratio:
        return None
    least, most = usual
    if 0.95 * least <= facts.developer_parts <= 1.05 * most:
        return None
    said = f"1:{least:g}" if least == most else f"1:{least:g} to 1:{most:g}"
    return f"mixed 1:{facts.developer_parts:.2g}; {facts.kind} is usually mixed {said}"


def _usual_minutes(facts: ServiceFacts) -> str | None:
    if facts.kind not in ("permanent", "demi", "lighten") or facts.minutes is None:
        return None
    least, most = USUAL_MINUTES
    if facts.minutes <= most and (facts.kind == "lighten" or facts.minutes >= least):
        return None  # lightener is rinsed when the level is there, however soon
    return f"on for {facts.minutes:g} minutes; {least:g} to {most:g} are usual, the instructions decide"


def _sections(facts: ServiceFacts) -> str | None:
    width = facts.section_width_cm
    if facts.kind == "colour removal" or width is None or width <= SATURATION_SECTION_CM + 0.05:
        return None
    return f"sections of {width:g} cm; up to {SATURATION_SECTION_CM:g} cm are soaked through"


def _cross_check(facts: ServiceFacts) -> str | None:
    if facts.cross_checked is not False:
        return None
    return "saturation was not checked again across the sections; hairline and nape are missed most easily"


RULES: tuple[ServiceRule, ...] = (
    ServiceRule("stretches-too-far", MUST_NOT, MECHANICS, _stretches_too_far),
    ServiceRule("heat-with-lightener", MUST_NOT, PRACTICE, _heat_with_lightener),
    ServiceRule("lightener-over-lightened", LOOK_AGAIN, PRACTICE, _overlap),
    ServiceRule("bonds-before-lightener", LOOK_AGAIN, PRACTICE, _bonds_before_lightener),
    ServiceRule("safe-step", LOOK_AGAIN, "the salon's own limit", _safe_step),
    ServiceRule("strong-on-scalp", LOOK_AGAIN, PRACTICE, _strong_on_scalp),
    ServiceRule("deposit-does-not-lift", MUST_NOT, PRACTICE, _deposit_does_not_lift),
    ServiceRule("colour-does-not-lift-colour", MUST_NOT, PRACTICE, _colour_does_not_lift_colour),
    ServiceRule("direct-without-developer", LOOK_AGAIN, PRACTICE, _direct_without_developer),
    ServiceRule("oxidative-with-developer", LOOK_AGAIN, PRACTICE, _oxidative_with_developer),
    ServiceRule("remover-lifts-nothing", MUST_NOT, PRACTICE, _remover_lifts_nothing),
    ServiceRule("remover-and-class", LOOK_AGAIN, PRACTICE, _remover_and_class),
    ServiceRule("remover-over-lightened", LOOK_AGAIN, PRACTICE, _remover_with_developer_over_lightened),
    ServiceRule("remover-minutes", LOOK_AGAIN, PRACTICE, _remover_minutes),
    ServiceRule("remover-sections", LOOK_AGAIN, PRACTICE, _remover_sections),
    ServiceRule("remover-water", LOOK_AGAIN, PRACTICE, _remover_water),
    ServiceRule("usual-ratio", LOOK_AGAIN, OUTLINE, _usual_parts),
    ServiceRule("usual-minutes", LOOK_AGAIN, OUTLINE, _usual_minutes),
    ServiceRule("sections", LOOK_AGAIN, "from memory, no source", _sections),
    ServiceRule("cross-check", LOOK_AGAIN, PRACTICE, _cross_check),
)
