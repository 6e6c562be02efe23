"""Whether a service says what its kind needs, and nothing that belongs to another kind.

The table `BELONGS` says which fields each kind may have. What is wise (strength, time, overlap) is left to
the study's cautions; here it is only asked whether what is written can be what was done.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from journey.record.draft import Doubt, Draft, Route
from journey.record.model import PlannedService, Service, ServiceKind

Kind = ServiceKind

_COLOURS = frozenset({Kind.DIRECT_COLOUR, Kind.DEMI, Kind.PERMANENT, Kind.GLOSS, Kind.TONER})
_IN_A_BOWL = _COLOURS | {Kind.LIGHTEN, Kind.COLOUR_REMOVAL}
_ON_HAIR = _IN_A_BOWL | {Kind.BOND_PROTECTION, Kind.TREATMENT}

BELONGS: tuple[tuple[str, frozenset[ServiceKind]], ...] = (
    ("bowl", _ON_HAIR),
    ("heat", _ON_HAIR),
    ("section_width", _ON_HAIR),
    ("cross_checked", _ON_HAIR),
    ("to_level", _IN_A_BOWL),
    ("level_before", _IN_A_BOWL),
    ("levels_seen", frozenset({Kind.LIGHTEN, Kind.PERMANENT, Kind.COLOUR_REMOVAL})),
    ("cut", frozenset({Kind.TRIM})),
    ("to_length", frozenset({Kind.TRIM})),
    ("added_length", frozenset({Kind.EXTENSIONS_IN})),
    ("fixed_at", frozenset({Kind.EXTENSIONS_IN})),
    ("pieces", frozenset({Kind.EXTENSIONS_IN})),
    ("added_level", frozenset({Kind.EXTENSIONS_IN})),
    ("soaked", frozenset({Kind.COLOUR_REMOVAL})),
    ("covered", frozenset({Kind.COLOUR_REMOVAL})),
    ("with_developer", frozenset({Kind.COLOUR_REMOVAL})),
    ("leaves", frozenset({Kind.COLOUR_REMOVAL})),
)
"""Field, and the kinds of service it belongs to; other fields belong to every kind."""


def fields_fit_kinds(draft: Draft) -> Iterator[Doubt]:
    """A trim has no bowl, a colour is not cut to a length."""
    for route, service in draft.all_services():
        for field, kinds in BELONGS:
            if getattr(service, field, None) is not None and field in service.model_fields_set:
                if service.kind in kinds:
                    continue
                what = f"{field!r} does not belong to a service of kind '{service.kind}'; take it out"
                yield Doubt(draft.journey, (*route, field), what)


def kinds_are_complete(draft: Draft) -> Iterator[Doubt]:
    """Lightening says to which level, a trim how much, and what was put on the hair is in a bowl."""
    for route, service in draft.all_services():
        for what, instead in _lacking(service):
            yield Doubt(draft.journey, route, what, instead)
    for route, done in draft.services():
        if done.kind in _IN_A_BOWL and done.bowl is None:
            what = f"a service of kind '{done.kind}' needs what was in the bowl"
            yield Doubt(draft.journey, route, what, "'bowl:' with its lines")


def _lacking(service: Service | PlannedService) -> Iterator[tuple[str, str]]:
    if not service.zones:
        yield "no zone is named", "'zones: [crown]' or others"
    if service.kind is Kind.LIGHTEN and service.to_level is None:
        yield "lightening needs the level it went to", "'to_level: 9' or another"
    length = service.added_length if isinstance(service, Service) else None
    if service.kind is Kind.EXTENSIONS_IN and (length is None or length.cm == 0):
        yield "extensions need the length that was put in", "'added_length: 40 cm' or another"
    if service.kind is Kind.TRIM:
        to_length = service.to_length if isinstance(service, Service) else None
        if service.cut is None and to_length is None:
            yield "a trim needs how much came off, or what was left", "'cut: 2 cm' or 'to_length: 0.6 cm'"
        if service.cut is not None and to_length is not None:
            yield "a trim has either 'cut' or 'to_length'; take one out", ""


def extensions_in_before_out(draft: Draft) -> Iterator[Doubt]:
    """Zone by zone, extensions go in before they come out, and out before others go in."""
    holding: set[str] = set()
    for route, service in draft.services():
        for zone in service.zones:
            if service.kind is Kind.EXTENSIONS_IN and zone in holding:
                yield Doubt(draft.journey, route, f"extensions are in at {zone!r} already; take those out first")
            if service.kind is Kind.EXTENSIONS_OUT and zone not in holding:
                yield Doubt(draft.journey, route, f"no extensions are in at {zone!r} that could come out")
        if service.kind is Kind.EXTENSIONS_IN:
            holding |= set(service.zones)
        if service.kind is Kind.EXTENSIONS_OUT:
            holding -= set(service.zones)


def levels_rise(draft: Draft) -> Iterator[Doubt]:
    """Seen one after the other while lightener works, levels do not fall, and time does not run back."""
    for route, service in draft.services():
        for place, (before, after) in enumerate(pairwise(service.levels_seen), start=1):
            here: Route = (*route, "levels_seen", place)
            if after.at <= before.at:
                what = f"{after.at} does not come after {before.at}, which stands above it"
                yield Doubt(draft.journey, (*here, "at"), what)
            if after.level < before.level:
                what = f"level {after.level:g} is darker than {before.level:g}, seen before it"
                yield Doubt(draft.journey, (*here, "level"), what)


def times_fit(draft: Draft) -> Iterator[Doubt]:
    """Nothing is seen after the time is over, and nothing takes longer than the visit."""
    for route, visit in draft.visits():
        for place, service in enumerate(visit.services):
            here: Route = (*route, "services", place)
            last = service.levels_seen[-1].at if service.levels_seen else None
            if service.time is not None and last is not None and last > service.time:
                what = f"a level was seen at {last}, after the {service.time} the service took"
                yield Doubt(draft.journey, (*here, "levels_seen", len(service.levels_seen) - 1, "at"), what)
            if service.time is not None and visit.chair_time is not None and service.time > visit.chair_time:
                what = f"{service.time} is longer than the whole visit, {visit.chair_time}"
                yield Doubt(draft.journey, (*here, "time"), what)


def sessions_in_order(draft: Draft) -> Iterator[Doubt]:
    """An option's sessions are counted 1, 2, 3, and what lies between them is said."""
    for place, option in enumerate(draft.journey.value.options if draft.journey.value is not None else ()):
        highest = 0
        for number, service in enumerate(option.services):
            here: Route = ("options", place, "services", number, "session")
            if not highest <= service.session <= highest + 1 or service.session == 0:
                yield Doubt(draft.journey, here, f"session {service.session} does not follow {highest}")
            highest = max(highest, service.session)
        if highest > 1 and option.weeks_between is None:
            what = "an option of several sessions needs the time between them"
            yield Doubt(draft.journey, ("options", place), what, "'weeks_between: 4' or another")
