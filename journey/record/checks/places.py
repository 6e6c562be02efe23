"""Whether the head and the photos of it are described in a way that can be followed."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from journey.record.draft import Doubt, Draft
from journey.record.model import CheckIn

Corners = tuple[tuple[float, float], ...]


def something_to_follow(draft: Draft) -> Iterator[Doubt]:
    """There is a zone, and a visit."""
    journey = draft.journey.value
    if journey is None:
        return
    if not journey.zones:
        yield Doubt(draft.journey, ("zones",), "no zone is followed", "at least one")
    if not journey.visits:
        yield Doubt(draft.journey, ("visits",), "no visit is written yet", "at least one")


def lengths_make_sense(draft: Draft) -> Iterator[Doubt]:
    """A zone has some hair, and is not clipped to more than it has."""
    for place, zone in enumerate(draft.journey.value.zones if draft.journey.value is not None else ()):
        if zone.length.cm == 0:
            yield Doubt(draft.journey, ("zones", place, "length"), "a zone without hair cannot be followed")
        if zone.clipped_to is not None and zone.clipped_to > zone.length:
            what = f"it cannot be clipped to {zone.clipped_to} when it is {zone.length} long"
            yield Doubt(draft.journey, ("zones", place, "clipped_to"), what)


def shares_of_head_fit(draft: Draft) -> Iterator[Doubt]:
    """Zones do not hold more hair between them than grows on one head."""
    zones = draft.journey.value.zones if draft.journey.value is not None else ()
    whole = sum(zone.share_of_head or 0.0 for zone in zones)
    if whole > 1 + 1e-9:
        what = f"the zones' share_of_head make {100 * whole:g} %"
        yield Doubt(draft.journey, ("zones",), what, "shares that make 100 % at most")
    for place, zone in enumerate(zones):
        if zone.share_of_head == 0:
            yield Doubt(draft.journey, ("zones", place, "share_of_head"), "a zone has some of the hair")


def moments_fit(draft: Draft) -> Iterator[Doubt]:
    """Photos at home belong to check-ins, the others to visits."""
    for route, entry in draft.entries():
        for place, photo in enumerate(entry.photos):
            at_home = photo.moment == "home"
            if at_home != isinstance(entry, CheckIn):
                what = f"a photo of the moment '{photo.moment}' does not belong to a {_kind(entry)}"
                instead = "'home'" if not at_home else "'before', 'lightened', 'removed' or 'after'"
                yield Doubt(draft.journey, (*route, "photos", place, "moment"), what, instead)


def charts_have_four_sides(draft: Draft) -> Iterator[Doubt]:
    """A chart's corners go round clockwise, as they are seen on the photo, and enclose something."""
    for route, photo in draft.photos():
        if photo.chart is not None and not _clockwise(photo.chart.corners):
            what = "these corners do not go round clockwise"
            instead = "first the corner at the dark skin patch, then on clockwise as seen on the photo"
            yield Doubt(draft.journey, (*route, "chart", "corners"), what, instead)


def _clockwise(corners: Corners) -> bool:
    """Every turn is to the right; y runs down, so the cross product of two sides in a row is positive."""
    ring = (*corners, *corners[:2])
    sides = [(bx - ax, by - ay) for (ax, ay), (bx, by) in pairwise(ring)]
    return all(ax * by - ay * bx > 1e-9 for (ax, ay), (bx, by) in pairwise(sides))


def lamps_have_charts(draft: Draft) -> Iterator[Doubt]:
    """A photo taken under the lamp of another takes its colours from that one's chart."""
    without = (draft.photo_keys() or frozenset()) - (draft.photo_keys(having="chart") or frozenset())
    for route, photo in draft.photos():
        if photo.lamp_from in without:
            what = f"the photo {photo.lamp_from!r} shows no colour chart"
            yield Doubt(draft.journey, (*route, "lamp_from"), what, "one that does, or take the line out")


def magnified_is_measured(draft: Draft) -> Iterator[Doubt]:
    """A sensor's width only says something beside a magnification."""
    for route, photo in draft.photos():
        close = photo.magnified
        if close is not None and close.sensor_width_mm is not None and close.magnification is None:
            what = "the width of a sensor needs the magnification beside it"
            yield Doubt(draft.journey, (*route, "magnified", "sensor_width_mm"), what, "'magnification: 50'")


def choices_can_be_chosen(draft: Draft) -> Iterator[Doubt]:
    """A question has no choices, or several."""
    for place, point in enumerate(draft.journey.value.teaching if draft.journey.value is not None else ()):
        if len(point.choices) == 1:
            what = "one choice is none"
            yield Doubt(draft.journey, ("teaching", place, "choices"), what, "two or more, or take them out")


def _kind(entry: object) -> str:
    return "check-in" if isinstance(entry, CheckIn) else "visit"
