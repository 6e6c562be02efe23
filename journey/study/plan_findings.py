"""Findings of what could come next: removals foretold and read, and the touch-up of the new growth."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from journey.colour.reason import Reason
from journey.study.findings import PATH_FORMULA
from journey.study.model import Finding, Lab
from journey.study.plan_model import RemovalCheck, RemovalStudy, TouchUp


def plan_findings(
    removals: Sequence[RemovalStudy],
    checks: Sequence[RemovalCheck],
    touch_ups: Sequence[TouchUp],
    where: Mapping[str, str],
) -> Mapping[str, Finding]:
    """By key, in the order they are told."""
    found = (
        *(one for removal in removals for one in _removal(removal, where)),
        *(_check(check, where) for check in checks),
        *(_touch_up(touch_up, where) for touch_up in touch_ups),
    )
    return {finding.key: finding for finding in found}


def _lab(lab: Lab) -> str:
    return ", ".join(f"{value:.1f}" for value in lab)


def _removal(one: RemovalStudy, where: Mapping[str, str]) -> Iterator[Finding]:
    for step in one.passes[1:]:
        yield Finding(
            key=f"removal.{one.place.zone}.{one.place.band}.{step.number}",
            value=_lab(step.expected),
            unit="L*, a*, b* (D65, 2°)",
            method=Reason(
                "how-removal",
                share=step.share,
                leaves=one.leaves,
                light=_lab(step.light),
                strong=_lab(step.strong),
            ),
            formula=Reason("formula-removal", path=PATH_FORMULA),
            sources=(where[f"zone:{one.place.zone}"], *(where[f"service:{coat.service}"] for coat in one.coats)),
        )


def _check(one: RemovalCheck, where: Mapping[str, str]) -> Finding:
    share = one.read_share
    return Finding(
        key=f"removal.{one.service}.{one.reading}.share",
        value=round(share.median, 3),
        unit="share of what washing had left",
        low=round(share.low, 3),
        high=round(share.high, 3),
        method=Reason(
            "how-removal-read", before=one.left_before, leaves=one.leaves, apart=one.delta_e
        ),
        formula=PATH_FORMULA,
        inputs=(f"reading.{one.reading}",),
        sources=(where[f"service:{one.service}"],),
    )


def _touch_up(one: TouchUp, where: Mapping[str, str]) -> Finding:
    return Finding(
        key=f"touch-up.{one.service}.needed",
        value=round(one.needed_g.median, 1),
        unit="g",
        low=round(one.needed_g.low, 1),
        high=round(one.needed_g.high, 1),
        method=Reason(
            "how-touch-up", grams=one.did_g, did=one.did_cm, grown=one.grown_cm.median, day=one.day
        ),
        formula=Reason("formula-touch-up"),
        inputs=("growth.rate",),
        sources=tuple(dict.fromkeys(where[f"service:{key}"] for key in (one.service, one.amount_of))),
    )
