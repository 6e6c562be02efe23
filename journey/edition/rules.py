"""One rule for every field of the record: what each audience gets of it, and why not more.

The default is withheld: a field without a line here is a failing test and reaches no page. Four treatments:

* ``show``    the value is copied as written; only for typed values and words from fixed lists;
* ``filter``  the text is copied after every declared identifier in it has been replaced;
* ``derive``  the value is used in computing and never copied (a date becomes a week, a rectangle a colour);
* ``withhold`` nothing of it goes out.

`Gate` applies them; `withheld_fields` is the ledger of what stayed behind.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, TypeVar

from pydantic import BaseModel

from journey.record.model import Audience, Record

T = TypeVar("T")


class Treatment(StrEnum):
    SHOW = "show"
    FILTER = "filter"
    DERIVE = "derive"
    WITHHOLD = "withhold"


@dataclass(frozen=True, slots=True)
class Rule:
    """Treatment per audience, and the reason where something stays behind."""

    client: Treatment
    class_: Treatment
    archive: Treatment
    why: str

    def for_(self, audience: Audience) -> Treatment:
        return {Audience.CLIENT: self.client, Audience.CLASS: self.class_, Audience.ARCHIVE: self.archive}[
            audience
        ]


_LETTERS = {"S": Treatment.SHOW, "F": Treatment.FILTER, "D": Treatment.DERIVE, "W": Treatment.WITHHOLD}

_IDENTITY = "says who she is"
_SALON = "says which salon or stylist"
_COST = "is between the salon and its books"
_LOT = "a lot number leads back to a purchase and a day"
_PRIVATE = "the stylist's own"
_HEALTH = "about health"
_WHERE = "only where to look or measure"
_COMPUTED = "shown as what was computed from it"
_KEY = "a word by which parts of the record find each other"
_PROOF = "proof of consent stays with the salon"
_TEACHING = "for the class"
_OTHERS = "names of other people"
_PUBLIC = ""

# Letters stand for client, class, archive.
_TABLE: tuple[tuple[str, str, str], ...] = (
    ("Record.salon", "DDD", _PUBLIC),
    ("Record.identity", "DDD", _IDENTITY),
    ("Record.consent", "DDD", _PROOF),
    ("Record.journey", "DDD", _PUBLIC),
    ("Stylist.key", "DDD", _KEY),
    ("Stylist.name", "WWS", _SALON),
    ("SwatchColour.on", "DDD", _COMPUTED),
    ("SwatchColour.gives", "DDD", _COMPUTED),
    ("Product.key", "DDD", _KEY),
    ("Product.name", "FFF", _PUBLIC),
    ("Product.role", "SSS", _PUBLIC),
    ("Product.colour_class", "SSS", _PUBLIC),
    ("Product.level", "DDD", _COMPUTED),
    ("Product.peroxide", "SSS", _PUBLIC),
    ("Product.ratio", "DDD", _COMPUTED),
    ("Product.ratio_to", "DDD", _COMPUTED),
    ("Product.price", "WWD", _COST),
    ("Product.pack", "WWD", _COST),
    ("Product.swatch", "DDD", _COMPUTED),
    ("Product.patch_test_hours", "DDD", _COMPUTED),
    ("Product.metallic_salts", "DDD", _COMPUTED),
    ("Salon.name", "WWS", _SALON),
    ("Salon.address", "WWW", _SALON),
    ("Salon.phone", "WWW", _SALON),
    ("Salon.email", "WWW", _SALON),
    ("Salon.handles", "WWW", _SALON),
    ("Salon.stylists", "DDD", _SALON),
    ("Salon.other_clients", "WWW", _OTHERS),
    ("Salon.currency", "WWS", _COST),
    ("Salon.chair_hour", "WWD", _COST),
    ("Salon.units", "DDD", _COMPUTED),
    ("Salon.products", "DDD", _PUBLIC),
    ("Salon.safe_lift_per_session", "DDD", _COMPUTED),
    ("Salon.refresh_from", "DDD", _COMPUTED),
    ("Salon.refresh_until", "DDD", _COMPUTED),
    ("Salon.removal_leaves", "DDD", _COMPUTED),
    ("Salon.assumptions", "DDD", _COMPUTED),
    ("ClassFade.colour_class", "DDD", _COMPUTED),
    ("ClassFade.half_after_washes", "DDD", _COMPUTED),
    ("ClassFade.spread", "DDD", _COMPUTED),
    ("LevelColour.level", "DDD", _COMPUTED),
    ("LevelColour.natural", "DDD", _COMPUTED),
    ("LevelColour.lightened", "DDD", _COMPUTED),
    ("Assumptions.uptake_spread", "DDD", _COMPUTED),
    ("Assumptions.remover_spread", "DDD", _COMPUTED),
    ("Assumptions.stain_share", "DDD", _COMPUTED),
    ("Assumptions.lightener_leaves", "DDD", _COMPUTED),
    ("Assumptions.fading", "DDD", _COMPUTED),
    ("Assumptions.levels", "DDD", _COMPUTED),
    ("Assumptions.level_error", "DDD", _COMPUTED),
    ("Assumptions.other_zone_error", "DDD", _COMPUTED),
    ("Assumptions.clean_base_level", "DDD", _COMPUTED),
    ("Assumptions.muddy_below_chroma", "DDD", _COMPUTED),
    ("Assumptions.darker_by_levels", "DDD", _COMPUTED),
    ("Assumptions.turns_beyond", "DDD", _COMPUTED),
    ("Assumptions.own_fades_spread", "DDD", _COMPUTED),
    ("Assumptions.light_spread", "DDD", _COMPUTED),
    ("Assumptions.chart_holds_days", "DDD", _COMPUTED),
    ("Assumptions.scale_error", "DDD", _COMPUTED),
    ("Assumptions.strand_width_um", "DDD", _COMPUTED),
    ("Assumptions.hot_tool_celsius", "DDD", _COMPUTED),
    ("Assumptions.much_sun_hours", "DDD", _COMPUTED),
    ("Assumptions.rubs_off_days", "DDD", _COMPUTED),
    ("Assumptions.most_wet_stretch", "DDD", _COMPUTED),
    ("Assumptions.least_wet_stretch", "DDD", _COMPUTED),
    ("Assumptions.notable_stretch", "DDD", _COMPUTED),
    ("Assumptions.off_scalp_volumes", "DDD", _COMPUTED),
    ("Assumptions.widest_section_cm", "DDD", _COMPUTED),
    ("Assumptions.least_minutes", "DDD", _COMPUTED),
    ("Assumptions.most_minutes", "DDD", _COMPUTED),
    ("Assumptions.ratio_tolerance", "DDD", _COMPUTED),
    ("Assumptions.sum_tolerance_g", "DDD", _COMPUTED),
    ("Assumptions.ruler_error_cm", "DDD", _COMPUTED),
    ("Assumptions.start_error_cm", "DDD", _COMPUTED),
    ("Assumptions.written_growth_error", "DDD", _COMPUTED),
    ("Identity.name", "WWW", _IDENTITY),
    ("Identity.nicknames", "WWW", _IDENTITY),
    ("Identity.born", "WWW", _IDENTITY),
    ("Identity.phones", "WWW", _IDENTITY),
    ("Identity.emails", "WWW", _IDENTITY),
    ("Identity.addresses", "WWW", _IDENTITY),
    ("Identity.places", "WWW", _IDENTITY),
    ("Identity.handles", "WWW", _IDENTITY),
    ("Identity.urls", "WWW", _IDENTITY),
    ("Identity.workplaces", "WWW", _IDENTITY),
    ("Identity.relatives", "WWW", _IDENTITY),
    ("Identity.plates", "WWW", _IDENTITY),
    ("Identity.numbers", "WWW", _IDENTITY),
    ("Identity.rare_traits", "WWW", _IDENTITY),
    ("RareTrait.key", "DDD", _KEY),
    ("RareTrait.says", "DDD", "a rare trait: shown only where somebody decided so"),
    ("RareTrait.shown_in", "DDD", _COMPUTED),
    ("TraitShown.edition", "DDD", _COMPUTED),
    ("TraitShown.because", "WWW", _PRIVATE),
    ("TraitShown.by", "WWW", _SALON),
    ("Identity.region", "DDD", _IDENTITY),
    ("Wording.key", "DDD", _KEY),
    ("Wording.language", "WWS", _PROOF),
    ("Wording.note", "WWD", _PROOF),
    ("Wording.sha256", "WWS", _PROOF),
    ("Grant.edition", "DDS", _PROOF),
    ("Grant.given_on", "DDS", _PROOF),
    ("Grant.method", "WWS", _PROOF),
    ("Grant.asked_by", "WWD", _PROOF),
    ("Grant.wording", "DDD", _KEY),
    ("Grant.expires_on", "DDS", _PROOF),
    ("Grant.photos", "DDD", _PROOF),
    ("Grant.capacity", "DDS", _PROOF),
    ("Grant.has_seen", "DDS", _PROOF),
    ("Grant.told_copies_cannot_be_recalled", "DDS", _PROOF),
    ("Grant.told_limits_of_anonymity", "DDS", _PROOF),
    ("Grant.health", "DDS", _PROOF),
    ("Grant.evidence", "WWD", _PROOF),
    ("Grant.guardian", "WWW", _OTHERS),
    ("Grant.guardian_is", "WWW", _OTHERS),
    ("Grant.seen_sheet", "DDS", _PROOF),
    ("OtherPerson.key", "DDD", _KEY),
    ("OtherPerson.name", "WWW", _OTHERS),
    ("OtherPerson.minor", "DDD", _PROOF),
    ("OtherPerson.grants", "DDD", _PROOF),
    ("Photographer.key", "DDD", _KEY),
    ("Photographer.name", "WWW", _OTHERS),
    ("Photographer.licence", "WWW", _PROOF),
    ("Photographer.editions", "DDD", _PROOF),
    ("Photographer.granted_on", "DDD", _PROOF),
    ("Photographer.expires_on", "DDD", _PROOF),
    ("Recipient.edition", "WWD", _PROOF),
    ("Recipient.who", "WWW", _OTHERS),
    ("Recipient.on", "WWD", _PROOF),
    ("Withdrawal.on", "DDS", _PROOF),
    ("Withdrawal.edition", "DDS", _PROOF),
    ("Withdrawal.photo", "DDD", _PROOF),
    ("Withdrawal.person", "DDD", _PROOF),
    ("Withdrawal.received_by", "WWD", _PROOF),
    ("Consent.wordings", "DDD", _PROOF),
    ("Consent.grants", "DDD", _PROOF),
    ("Consent.withdrawals", "DDD", _PROOF),
    ("Consent.other_people", "DDD", _PROOF),
    ("Consent.photographers", "DDD", _PROOF),
    ("Consent.recipients", "WWD", _PROOF),
    ("Zone.key", "DDD", _KEY),
    ("Zone.name", "FFF", _PUBLIC),
    ("Zone.length", "SSS", _PUBLIC),
    ("Zone.natural_level", "SSS", _PUBLIC),
    ("Zone.clipped_to", "SSS", _PUBLIC),
    ("Zone.share_of_head", "DDD", _COMPUTED),
    ("HeatHabit.tool", "FFF", _PUBLIC),
    ("HeatHabit.times_a_week", "SSS", _PUBLIC),
    ("HeatHabit.temperature", "SSS", _PUBLIC),
    ("Hair.natural_level", "SSS", _PUBLIC),
    ("Hair.texture", "FFF", _PUBLIC),
    ("Hair.density", "FFF", _PUBLIC),
    ("Hair.porosity", "SSS", _PUBLIC),
    ("Hair.growth_mm_per_month", "DDD", _COMPUTED),
    ("Hair.washes_a_week", "SSS", _PUBLIC),
    ("Hair.water", "SSS", _PUBLIC),
    ("Hair.wash_temperature", "SSS", _PUBLIC),
    ("Hair.swims_a_week", "SSS", _PUBLIC),
    ("Hair.sun_hours_a_week", "SSS", _PUBLIC),
    ("Hair.heat", "DDD", _PUBLIC),
    ("Hair.history", "WFF", "told to the client in the chair"),
    ("Hair.metallic_salts", "DDD", _COMPUTED),
    ("Hair.henna", "DDD", _COMPUTED),
    ("Health.age", "WWD", _HEALTH),
    ("Health.earlier_reaction", "DDD", _HEALTH),
    ("Health.black_henna_tattoo", "DDD", _HEALTH),
    ("Health.scalp", "WWF", _HEALTH),
    ("Health.pregnancy_or_medicines", "DDD", _HEALTH),
    ("Patch.zone", "DDD", _WHERE),
    ("Patch.band", "SSS", _PUBLIC),
    ("Patch.rect", "DDD", _WHERE),
    ("Neutral.rect", "DDD", _WHERE),
    ("Neutral.reflectance", "DDD", _WHERE),
    ("Chart.corners", "DDD", _WHERE),
    ("Magnified.field_width_mm", "DDD", _COMPUTED),
    ("Magnified.magnification", "DDD", _COMPUTED),
    ("Magnified.sensor_width_mm", "DDD", _COMPUTED),
    ("Magnified.colours", "DDD", _COMPUTED),
    ("Magnified.zone", "DDD", _WHERE),
    ("Magnified.band", "SSS", _PUBLIC),
    ("RulerReading.zone", "DDD", _WHERE),
    ("RulerReading.new_growth", "DDD", _COMPUTED),
    ("Photo.key", "DDD", _KEY),
    ("Photo.file", "WWD", "people write names into file names"),
    ("Photo.view", "FFF", _PUBLIC),
    ("Photo.moment", "SSS", _PUBLIC),
    ("Photo.light", "WFF", "told to those who measure"),
    ("Photo.caption", "FFF", _PUBLIC),
    ("Photo.patches", "DDD", _WHERE),
    ("Photo.neutral", "DDD", _WHERE),
    ("Photo.chart", "DDD", _WHERE),
    ("Photo.lamp_from", "DDD", _KEY),
    ("Photo.magnified", "DDD", _WHERE),
    ("Photo.ruler", "DDD", _COMPUTED),
    ("Photo.no_face", "DDD", _PROOF),
    ("Photo.shows", "DDD", "a photo of a rare trait goes only where somebody decided so"),
    ("Photo.covers", "DDD", "what lies under a cover stays under it"),
    ("Photo.people", "DDD", _PROOF),
    ("Photo.photographer", "DDD", _PROOF),
    ("BowlLine.product", "DDD", _KEY),
    ("BowlLine.grams", "SSS", _PUBLIC),
    ("BowlLine.lot", "WWS", _LOT),
    ("Bowl.lines", "DDD", _PUBLIC),
    ("Bowl.left_over", "WSS", "told to those who mix"),
    ("Bowl.ratio", "SSS", _PUBLIC),
    ("Bowl.total", "DDD", _COMPUTED),
    ("Bowl.developer_strength", "WSS", "told to those who mix"),
    ("LevelSeen.at", "WSS", "told to those who lighten"),
    ("LevelSeen.level", "WSS", "told to those who lighten"),
    ("Service.key", "DDD", _KEY),
    ("Service.kind", "SSS", _PUBLIC),
    ("Service.name", "FFF", _PUBLIC),
    ("Service.zones", "DDD", _PUBLIC),
    ("Service.band", "SSS", _PUBLIC),
    ("Service.bowl", "DDD", _PUBLIC),
    ("Service.time", "SSS", _PUBLIC),
    ("Service.heat", "FFF", _PUBLIC),
    ("Service.section_width", "WSS", "told to those who work"),
    ("Service.to_level", "SSS", _PUBLIC),
    ("Service.level_before", "WSS", "told to those who work"),
    ("Service.levels_seen", "DDD", _PUBLIC),
    ("Service.cut", "SSS", _PUBLIC),
    ("Service.to_length", "SSS", _PUBLIC),
    ("Service.with_developer", "SSS", _PUBLIC),
    ("Service.cross_checked", "WSS", "told to those who work"),
    ("Service.leaves", "DDD", _COMPUTED),
    ("Service.added_length", "SSS", _PUBLIC),
    ("Service.fixed_at", "WSS", "told to those who work"),
    ("Service.added_level", "WSS", "told to those who work"),
    ("Service.soaked", "WSS", "told to those who work"),
    ("Service.covered", "WSS", "told to those who work"),
    ("Service.pieces", "SSS", _PUBLIC),
    ("Service.seen", "FFF", _PUBLIC),
    ("SafetyTest.kind", "DDD", _HEALTH),
    ("SafetyTest.on", "DDD", _HEALTH),
    ("SafetyTest.product", "DDD", _KEY),
    ("SafetyTest.result", "DDD", _HEALTH),
    ("Condition.moment", "DSS", _COMPUTED),
    ("Condition.zone", "DDD", _KEY),
    ("Condition.band", "DSS", _COMPUTED),
    ("Condition.elasticity_wet_percent", "DSS", _COMPUTED),
    ("Condition.porosity", "DSS", _COMPUTED),
    ("Condition.note", "WFF", "told to those who work"),
    ("Visit.key", "DDD", _KEY),
    ("Visit.date", "DDD", "days are told as this audience may know them"),
    ("Visit.stylist", "WWD", _SALON),
    ("Visit.title", "FFF", _PUBLIC),
    ("Visit.words", "FWF", "said to her"),
    ("Visit.class_note", "WFF", _TEACHING),
    ("Visit.private_note", "WWF", _PRIVATE),
    ("Visit.tests", "DDD", _HEALTH),
    ("Visit.services", "DDD", _PUBLIC),
    ("Visit.conditions", "DDD", _PUBLIC),
    ("Visit.photos", "DDD", _PUBLIC),
    ("Visit.chair_time", "SSS", _PUBLIC),
    ("Visit.paid", "WWS", _COST),
    ("CheckIn.key", "DDD", _KEY),
    ("CheckIn.date", "DDD", "days are told as this audience may know them"),
    ("CheckIn.words", "FWF", "said to her"),
    ("CheckIn.washes_since_last", "DDD", _COMPUTED),
    ("CheckIn.photos", "DDD", _PUBLIC),
    ("PlannedService.kind", "SSS", _PUBLIC),
    ("PlannedService.name", "FFF", _PUBLIC),
    ("PlannedService.zones", "DDD", _PUBLIC),
    ("PlannedService.band", "SSS", _PUBLIC),
    ("PlannedService.bowl", "DDD", _COMPUTED),
    ("PlannedService.time", "SSS", _PUBLIC),
    ("PlannedService.to_level", "SSS", _PUBLIC),
    ("PlannedService.level_before", "DDD", _COMPUTED),
    ("PlannedService.cut", "SSS", _PUBLIC),
    ("PlannedService.leaves", "DDD", _COMPUTED),
    ("PlannedService.session", "SSS", _PUBLIC),
    ("PlannedService.with_developer", "DDD", _COMPUTED),
    ("PlannedService.heat", "DDD", _COMPUTED),
    ("Option.key", "DDD", _KEY),
    ("Option.title", "FFF", _PUBLIC),
    ("Option.words", "FFF", _PUBLIC),
    ("Option.services", "DDD", _COMPUTED),
    ("Option.weeks_between", "SSS", _PUBLIC),
    ("Option.know_first", "FFF", _PUBLIC),
    ("TeachingPoint.figure", "DDD", _KEY),
    ("TeachingPoint.question", "WFF", _TEACHING),
    ("TeachingPoint.answer", "WFF", _TEACHING),
    ("TeachingPoint.choices", "WFF", _TEACHING),
    ("CareOverride.rule", "DDD", _KEY),
    ("CareOverride.do", "FFF", _PUBLIC),
    ("CareOverride.because", "FFF", _PUBLIC),
    ("AllowedSentence.sentence", "DDD", _COMPUTED),
    ("AllowedSentence.because", "WWW", _PRIVATE),
    ("AllowedSentence.by", "WWW", _SALON),
    ("Journey.title", "FFF", _PUBLIC),
    ("Journey.language", "SSS", _PUBLIC),
    ("Journey.goal", "FFF", _PUBLIC),
    ("Journey.summary", "FFF", _PUBLIC),
    ("Journey.hair", "DDD", _PUBLIC),
    ("Journey.health", "DDD", _HEALTH),
    ("Journey.zones", "DDD", _PUBLIC),
    ("Journey.visits", "DDD", _PUBLIC),
    ("Journey.check_ins", "DDD", _PUBLIC),
    ("Journey.options", "DDD", _PUBLIC),
    ("Journey.teaching", "DDD", _TEACHING),
    ("Journey.care", "DDD", _PUBLIC),
    ("Journey.allowed_sentences", "DDD", _COMPUTED),
)

RULES: Mapping[str, Rule] = {
    path: Rule(_LETTERS[letters[0]], _LETTERS[letters[1]], _LETTERS[letters[2]], why)
    for path, letters, why in _TABLE
}


class UnruledFieldError(LookupError):
    """A field of the record has no rule, so nothing of it may be shown."""


@dataclass(slots=True)
class Gate:
    """Lets values of the record through to one audience, by the rules and nothing else."""

    audience: Audience
    clean: Callable[[str], str]
    """The text filter."""
    said: dict[tuple[str, str], None] = field(default_factory=dict)
    """(field, text as let through), each once, in the order asked for."""

    def text(self, path: str, value: str | None) -> str:
        """A text after the filter, or '' when this audience does not get it."""
        if value is None:
            return ""
        treatment = self._treatment(path)
        if treatment not in (Treatment.FILTER, Treatment.SHOW):
            return ""
        through = self.clean(str(value)) if treatment is Treatment.FILTER else str(value)
        self.said[path, through] = None
        return through

    def value(self, path: str, value: T | None) -> T | None:
        """A typed value, or None when this audience does not get it."""
        if value is None or self._treatment(path) is not Treatment.SHOW:
            return None
        return value

    def may_derive(self, path: str) -> bool:
        """Whether numbers computed from this field may be shown."""
        return self._treatment(path) in (Treatment.DERIVE, Treatment.SHOW)

    def _treatment(self, path: str) -> Treatment:
        rule = RULES.get(path)
        if rule is None:
            raise UnruledFieldError(f"{path} has no rule in journey/edition/rules.py")
        return rule.for_(self.audience)


def withheld_fields(record: Record, audience: Audience) -> Iterator[tuple[str, int, str]]:
    """(field, how often it is filled in, why) of all that this audience gets nothing of."""
    counts: dict[str, int] = {}
    _count(record, counts)
    for path, rule in RULES.items():
        if rule.for_(audience) is Treatment.WITHHOLD and counts.get(path):
            yield path, counts[path], rule.why


def _count(part: Any, counts: dict[str, int]) -> None:
    if isinstance(part, tuple):
        for item in part:
            _count(item, counts)
    elif isinstance(part, BaseModel):
        for name in type(part).model_fields:
            value = getattr(part, name)
            if value is None or value == ():
                continue
            path = f"{type(part).__name__}.{name}"
            counts[path] = counts.get(path, 0) + (len(value) if isinstance(value, tuple) else 1)
            _count(value, counts)
