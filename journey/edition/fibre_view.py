"""Magnified strands against the view from afar: single colours, their shares, and what they make together."""

from __future__ import annotations

from journey.colour.spaces import lab_to_hex
from journey.edition.desk import Desk
from journey.edition.model import Fact, FibreColour, FibreFigure
from journey.hair.absent import Absent
from journey.study.model import AfarComparison, FibreStudy, Lab


def fibre_figures(desk: Desk) -> tuple[FibreFigure, ...]:
    """One per magnified photo that may be shown; the client's page has none."""
    if desk.is_client:
        return ()
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
        else _compared(desk, study.difference),
        facts=_facts(desk, study),
    )


def _compared(desk: Desk, one: AfarComparison) -> str:
    """How far the mixture lies from the ordinary photo, in which direction, and whether that says anything."""
    words = desk.words
    said = words.say(
        "fibres.difference",
        apart=one.delta_e_2000,
        lightness=words.number(one.lightness, 1),
        chroma=words.number(one.chroma, 1),
        hue=words.number(one.hue, 1),
        within=one.within_90,
    )
    return f"{said} {words.say('fibres.agrees' if one.agrees else 'fibres.differs')}"


def _numbers(desk: Desk, lab: Lab) -> dict[str, str]:
    """CIELAB as words of a sentence."""
    return {name: desk.words.number(float(value), 0) for name, value in zip("Lab", lab, strict=True)}


def _facts(desk: Desk, study: FibreStudy) -> tuple[Fact, ...]:
    words = desk.words
    facts = [
        Fact(
            words.say("fibres.fact.counted"),
            words.say("fibres.declared" if study.declared else "fibres.suggested", n=len(study.labs)),
        )
    ]
    method = words.say(f"calibration.{study.calibration}")
    uncertain = words.say("plus-minus", value=study.uncertainty.delta_e_90)
    read = words.say("fibres.read", method=method, uncertain=uncertain)
    facts.append(Fact(words.say("fibres.fact.read"), read))
    facts += [
        Fact(desk.colour(lab), words.say("fibres.colour", {"share": words.percent(share), **_numbers(desk, lab)}))
        for lab, share in zip(study.labs, study.shares, strict=True)
    ]
    afar = words.say(
        "fibres.afar", {"name": desk.colour(study.from_afar_lab), **_numbers(desk, study.from_afar_lab)}
    )
    facts.append(Fact(words.say("fibres.fact.afar"), afar))
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
