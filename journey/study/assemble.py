"""Record to study: the order in which things are worked out, because later ones lean on earlier ones.

It decides nothing else. Photos are read first, strands grown from the services, fades fitted where both meet,
and forecasts, options, advice and cautions made from those.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from journey.record.intake import PhotoFolder
from journey.record.model import Record
from journey.study.advising import CareFacts, study_care
from journey.study.bases import Bases
from journey.study.bowls import study_bowls
from journey.study.calendar import moments, start_day, wash_calendar
from journey.study.cautions import CautionFacts, study_cautions
from journey.study.changing import study_changes
from journey.study.conditions import study_conditions
from journey.study.fading import fit_fades, latest_fade
from journey.study.fibres import study_fibres
from journey.study.findings import collect_findings, places_in_record
from journey.study.growing import grow_across, growth_rate
from journey.study.leading import leading_place, places_in_order
from journey.study.lifting import study_lift
from journey.study.model import Study
from journey.study.plan_findings import plan_findings
from journey.study.planning import study_options
from journey.study.reading_photos import read_photos
from journey.study.refreshing import study_refresh
from journey.study.removing import check_removals, removal_facts, residue_then, study_removals
from journey.study.strand_colours import StrandColours
from journey.study.strand_study import study_strand
from journey.study.touching_up import study_touch_ups
from journey.workshop import Workshop

Progress = Callable[[str], None]


def study_record(
    record: Record,
    photographs: PhotoFolder,
    *,
    as_of: date,
    progress: Progress = lambda _: None,
    workshop: Workshop | None = None,
) -> Study:
    """Everything that can be computed from one folder, as of a day."""
    start, washes = start_day(record.journey), wash_calendar(record.journey)
    photos = read_photos(record, photographs, progress, workshop)
    readings = tuple(reading for photo in photos for reading in photo.readings)
    progress("following the strands")
    rate = growth_rate(record)
    spread = grow_across(record, rate)
    grown = tuple(one.expected for one in spread)
    bases = Bases(readings, {one.zone.key: one for one in grown}, start, record.salon.assumptions)
    fades = fit_fades(record, readings, grown, bases, washes, as_of)
    leading = leading_place(record, readings, fades)
    changes = study_changes(readings, fades, record.salon.assumptions.light_spread)
    refresh = study_refresh(record.salon, fades, leading, washes, as_of)
    colours = StrandColours(fades, bases, washes, start)
    strands = tuple(study_strand(one, rate, colours, as_of) for one in spread)
    fibres, unread_fibres = study_fibres(record, photographs, photos, workshop)
    bowls = study_bowls(record)
    progress("predicting the options")
    order = places_in_order(record, readings)
    judged = (leading, *(place for place in order if place != leading and latest_fade(fades, place)))
    checks = check_removals(record, fades, readings, washes)
    touch_ups = study_touch_ups(record, grown, rate, refresh, start, as_of)
    removing = removal_facts(record, grown, colours, bases, checks, as_of)
    removals = study_removals(removing)
    options = study_options(record, fades, judged, bases, washes, removing)
    care = CareFacts(record.journey, record.salon.assumptions, latest_fade(fades, leading), refresh, as_of)
    return Study(
        as_of=as_of,
        start=start,
        moments=moments(record.journey),
        photos=photos,
        readings=readings,
        changes=changes,
        fades=fades,
        refresh=refresh,
        strands=strands,
        fibres=fibres,
        unread=(*(one for photo in photos for one in photo.unread), *unread_fibres),
        conditions=study_conditions(record),
        bowls=bowls,
        lift=study_lift(record, grown, colours, bases, as_of),
        removals=removals,
        removal_checks=checks,
        removal_residue=residue_then(record),
        touch_ups=touch_ups,
        options=options,
        advice=study_care(care),
        cautions=study_cautions(CautionFacts(record, grown, options, start, as_of)),
        findings={
            **collect_findings(
                record,
                photos=photos,
                changes=changes,
                fades=fades,
                refresh=refresh,
                strands=strands,
                fibres=fibres,
                bowls=bowls,
                options=options,
                rate=rate,
            ),
            **plan_findings(removals, checks, touch_ups, places_in_record(record)),
        },
        leading=leading,
        places=order,
        rate=rate,
    )
