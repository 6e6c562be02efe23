"""How hair looked and felt before and after one visit, side by side: close up, and magnified where it was.

It decides which two photos make a pair: of one place, one from before the visit's work and one from after,
of like views first. What the notes mean is advised by `journey.hair.condition`.
"""

from __future__ import annotations

from collections.abc import Iterator

from journey.edition.desk import Desk
from journey.edition.entry_view import crop_of, felt
from journey.edition.model import ConditionPair, ConditionSide, Picture
from journey.hair.absent import Absent
from journey.record.model import Photo, Visit
from journey.study.model import FibreStudy, Place, Reading

MOMENTS = ("before", "after")


def condition_pairs(desk: Desk) -> tuple[ConditionPair, ...]:
    """One per visit and place that was felt before and after; the client's page tells its meaning alone."""
    if desk.is_client:
        return ()
    visits = sorted(desk.record.journey.visits, key=lambda one: one.date)
    return tuple(
        pair
        for visit in visits
        for place in dict.fromkeys(Place(one.zone, str(one.band)) for one in visit.conditions)
        if (pair := _pair(desk, visit, place)) is not None
    )


def _pair(desk: Desk, visit: Visit, place: Place) -> ConditionPair | None:
    here = [one for one in visit.conditions if Place(one.zone, str(one.band)) == place]
    notes = {str(one.moment): one for one in here}
    if not notes.keys() >= set(MOMENTS):
        return None
    close, magnified = _close_ups(desk, visit, place), _magnified(desk, visit, place)
    sides = []
    for moment in MOMENTS:
        told = [*felt(desk, notes[moment]), *(line for one in magnified if one[0] == moment for line in one[2])]
        pictures = (*close.get(moment, ()), *(one[1] for one in magnified if one[0] == moment))
        sides.append(ConditionSide(desk.words.say(f"stage.{moment}"), tuple(pictures), tuple(told)))
    return ConditionPair(desk.words.when(visit.date), desk.place(place), (sides[0], sides[1]))


def _close_ups(desk: Desk, visit: Visit, place: Place) -> dict[str, tuple[Picture, ...]]:
    """The hair around the patch of the first view that was photographed before and after."""
    readings = [one for one in desk.study.readings if one.entry == visit.key and one.place == place]
    for view in dict.fromkeys(one.view for one in readings):
        found = {one.stage: one for one in readings if one.view == view and one.stage in MOMENTS}
        pictures = dict(_crops(desk, found))
        if len(pictures) == len(MOMENTS):
            return {moment: (picture,) for moment, picture in pictures.items()}
    return {}


def _crops(desk: Desk, found: dict[str, Reading]) -> Iterator[tuple[str, Picture]]:
    for moment, reading in found.items():
        picture = crop_of(desk, reading)
        if picture is not None:
            yield moment, picture


def _magnified(desk: Desk, visit: Visit, place: Place) -> list[tuple[str, Picture, list[str]]]:
    """(moment, picture, what was measured) of magnified photos, when there is one from either moment."""
    found = []
    for photo in visit.photos:
        seen = photo.magnified
        if seen is None or photo.moment not in MOMENTS or Place(seen.zone, str(seen.band)) != place:
            continue
        if desk.may_show(photo):
            study = next((one for one in desk.study.fibres if one.photo == photo.key), None)
            found.append((str(photo.moment), _whole(desk, photo, place), _measured(desk, study)))
    return found if {one[0] for one in found} == set(MOMENTS) else []


def _whole(desk: Desk, photo: Photo, place: Place) -> Picture:
    caption = desk.gate.text("Photo.caption", photo.caption)
    stage = desk.words.say(f"stage.{photo.moment}")
    alt = desk.words.say("condition.magnified-alt", place=desk.place(place), stage=stage)
    return desk.pictures.whole(photo, alt=alt, caption=caption or desk.place(place))


def _measured(desk: Desk, study: FibreStudy | None) -> list[str]:
    if study is None or isinstance(study.fibre_width_um, Absent):
        return []
    width = study.fibre_width_um
    return [desk.words.say("condition.width", um=width.median, low=width.low, high=width.high)]
