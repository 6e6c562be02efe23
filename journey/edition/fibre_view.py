"""Magnified strands against the view from afar: single colours, their shares, and what they make together."""

from __future__ import annotations

from journey.colour.spaces import lab_to_hex
from journey.edition.desk import Desk
from journey.edition.model import Fact, FibreColour, FibreFigure
from journey.hair.absent import Absent
from journey.study.model import FibreStudy


def fibre_figures(desk: Desk) -> tuple[FibreFigure, ...]:
    """One per magnified photo that may be shown."""
    return tuple(
        _figure(desk, study) for study in desk.study.fibres if desk.may_show(desk.photo(study.photo)[1])
    )


def _figure(desk: Desk, study: FibreStudy) -> FibreFigure:
    entry, photo = desk.photo(study.photo)
    words = desk.words
    colours = tuple(
        FibreColour(hex=lab_to_hex(lab).text, name=desk.colour(lab), share=share)
        for lab, share in zip(study.labs, study.shares, strict=True)
    )
    readings = {reading.key: reading for reading in desk.study.readings}
    ordinary = readings[study.ordinary] if study.ordinary is not None else None
    named = words.listing(
        [words.say("fibres.part", share=words.percent(one.share), name=one.name) for one in colours]
    )
    caption = desk.gate.text("Photo.caption", photo.caption)
    return FibreFigure(
        title=words.say("fibres.title", n=len(colours), afar=desk.colour(study.from_afar_lab)),
        alt=words.say("fibres.alt", named=named, afar=desk.colour(study.from_afar_lab)),
        when=words.when(entry.date),
        picture=desk.pictures.whole(
            photo,
            alt=words.say("fibres.picture-alt", named=named),
            caption=caption or desk.place(study.place),
        ),
        colours=colours,
        from_afar=desk.chip(study.place, study.from_afar_lab, trace=f"fibres.{study.photo}.afar"),
        ordinary=None
        if ordinary is None
        else desk.chip(study.place, ordinary.from_afar_lab, ordinary, f"reading.{ordinary.key}"),
        difference=desk.because(study.difference)
        if isinstance(study.difference, Absent)
        else words.say("fibres.difference", apart=study.difference),
        facts=_facts(desk, study),
    )


def _facts(desk: Desk, study: FibreStudy) -> tuple[Fact, ...]:
    words = desk.words
    facts = [
        Fact(
            words.say("fibres.fact.counted"),
            words.say("fibres.declared" if study.declared else "fibres.suggested", n=len(study.labs)),
        )
    ]
    if not isinstance(study.um_per_px, Absent):
        facts.append(Fact(words.say("fibres.fact.scale"), words.say("fibres.scale", um=study.um_per_px)))
    width = study.fibre_width_um
    facts.append(
        Fact(
            words.say("fibres.fact.width"),
            desk.because(width)
            if isinstance(width, Absent)
            else words.say("fibres.width", um=width.median, low=width.low, high=width.high),
        )
    )
    facts += [Fact(words.say("fibres.fact.mind"), desk.because(one)) for one in study.warnings]
    return tuple(facts)
