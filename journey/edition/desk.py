"""What every part of an edition is prepared with: the study, the gate, the words, and how a place or a colour
is named.

It decides nothing of its own; it keeps `prepare` and its parts from passing eight arguments around.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache

from journey.colour.difference import delta_e_2000
from journey.colour.names import colour_name
from journey.colour.reason import Reason, Value
from journey.colour.spaces import hex_to_lab, lab_to_hex
from journey.edition.consent import Permission
from journey.edition.gate import Gate
from journey.edition.identifiers import hidden_traits
from journey.edition.model import Chip
from journey.edition.pictures import Pictures
from journey.edition.wording import Wording
from journey.record.band import Band
from journey.record.model import Audience, CheckIn, Photo, Record, Visit
from journey.study.calendar import entries_in_order
from journey.study.model import Lab, Place, Reading, Study

GROUND = "#767676"
"""The neutral ground hair is shown on; a colour close to it needs a line around it."""
KEYLINE_DELTA_E = 12.0


@dataclass(slots=True)
class Desk:
    record: Record
    study: Study
    permission: Permission
    words: Wording
    gate: Gate
    pictures: Pictures
    _photos: dict[str, tuple[Visit | CheckIn, Photo]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._photos = {
            photo.key: (entry, photo)
            for entry in entries_in_order(self.record.journey)
            for photo in entry.photos
        }

    @property
    def audience(self) -> Audience:
        return self.permission.audience

    @property
    def is_client(self) -> bool:
        return self.audience is Audience.CLIENT

    @property
    def is_class(self) -> bool:
        return self.audience is Audience.CLASS

    @property
    def is_archive(self) -> bool:
        return self.audience is Audience.ARCHIVE

    def week(self, day: date) -> float:
        return (day - self.study.start).days / 7

    def photo(self, key: str) -> tuple[Visit | CheckIn, Photo]:
        return self._photos[key]

    def may_show(self, photo: Photo) -> bool:
        """Granted, not withdrawn, looked at for faces, and without a rare trait nobody decided to show."""
        hidden = {trait.key for trait in hidden_traits(self.record, self.audience)}
        if hidden.intersection(photo.shows):
            return False
        looked_at = photo.no_face or bool(photo.covers) or self.is_archive
        return photo.key in self.permission.photos and looked_at

    def zone(self, key: str) -> str:
        names = {zone.key: zone.name for zone in self.record.journey.zones}
        return self.gate.text("Zone.name", names[key])

    def band(self, band: str) -> str:
        """A stretch of the strand: named, or in centimetres."""
        key = f"band.{band}"
        if self.words.has(key):
            return self.words.say(key)
        written = Band.parse(band)
        if written.span is None:
            return self.words.listing([self.words.say(f"band.{place}") for place in written.places])
        near, far = (self.words.exact(end.cm) for end in (written.span.start, written.span.to))
        return self.words.say("band.span", near=near, far=far)

    def place(self, place: Place) -> str:
        """'Crown, mid-lengths'; a zone that is read whole is just its name."""
        if place.band == "all":
            return self.zone(place.zone)
        return self.words.say("place", zone=self.zone(place.zone), band=self.band(place.band))

    def because(self, reason: Reason) -> str:
        """A reason in words, its zones and products named as this audience may know them."""
        return self.words.because(self._named(reason))

    def _named(self, reason: Reason) -> Reason:
        named: dict[str, Value] = {}
        for name, value in reason.values:
            if isinstance(value, Reason):
                named[name] = self._named(value)
            elif name == "zone":
                named[name] = self.zone(str(value))
            elif name == "products" and isinstance(value, tuple):
                named[name] = tuple(self.gate.text("Product.name", str(one)) for one in value)
            else:
                named[name] = value
        return reason.with_values(**named)

    def colour(self, lab: Lab) -> str:
        """A colour's name in the client's language."""
        name = colour_name(lab)
        noun = self.words.say(f"colour.noun.{name.noun}")
        if not name.modifier:
            return noun
        return self.words.say(
            "colour.order", modifier=self.words.say(f"colour.modifier.{name.modifier}"), noun=noun
        )

    def chip(self, place: Place, lab: Lab, reading: Reading | None = None, trace: str | None = None) -> Chip:
        """A colour with the place it belongs to; of a reading, with what weakens it."""
        shown = lab_to_hex(lab)
        numbers = None
        if not self.is_client:
            plain = ", ".join(self.words.number(float(value), 0) for value in lab)
            numbers = plain
            if reading is not None:
                numbers = f"{plain} ± {self.words.number(reading.uncertainty.delta_e_90, 0)}"
        return Chip(
            place=self.place(place),
            hex=shown.text,
            name=self.colour(lab),
            keyline=needs_keyline(shown.text),
            out_of_screen=shown.clipped,
            weak=self.weakness(reading),
            numbers=numbers,
            trace=trace if self.is_archive else None,
            zone=place.zone if self.is_archive else str(self._zone_number(place.zone)),
            band=place.band,
        )

    def _zone_number(self, zone: str) -> int:
        return [one.key for one in self.record.journey.zones].index(zone) + 1

    def weakness(self, reading: Reading | None) -> str | None:
        """Why a reading is weak, in the reader's words; None when it is sound."""
        if reading is None or not (reading.weak or reading.trend_only):
            return None
        if self.is_client:
            return self.words.say("weak.client")
        trend = [self.words.say("weak.trend-only")] if reading.trend_only else []
        return "; ".join([*trend, *(self.because(reason) for reason in reading.weak)])


@lru_cache(maxsize=4096)
def needs_keyline(shown: str) -> bool:
    """Whether a colour nearly vanishes into the ground."""
    return float(delta_e_2000(hex_to_lab(shown), hex_to_lab(GROUND))) < KEYLINE_DELTA_E
