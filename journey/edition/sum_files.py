"""Numbers that sums need and a page has no room for, to download: fade paths, and a colour over wavelengths."""

from __future__ import annotations

import numpy as np

from journey.colour.dye import Dye
from journey.colour.observer import WAVELENGTHS_NM, XYZ_WEIGHTS
from journey.colour.spectra import smoothest_reflectance
from journey.edition.data_file import data_file, headings
from journey.edition.desk import Desk
from journey.edition.model import DataFile
from journey.record.model import PlannedService
from journey.study import predicting
from journey.study.growing import COLOURING, reaches
from journey.study.model import OptionStudy

PATH_STEP = 0.05


def laid_over(desk: Desk) -> tuple[OptionStudy, PlannedService, Dye] | None:
    """The first option whose one colour lies over something on the leading place."""
    for option, study in zip(desk.record.journey.options, desk.study.options, strict=True):
        laid = [one for one in option.services if reaches(one, desk.study.leading)]
        if len(laid) != 1 or laid[0].kind not in COLOURING or laid[0].bowl is None:
            continue
        dye = predicting.bowl_dye(desk.record, laid[0].bowl)
        if dye is not None and all(one.method == "block-dye" for one, _ in study.coats) and len(study.coats) > 1:
            return study, laid[0], dye
    return None


def layers_file(desk: Desk) -> DataFile | None:
    """What the prediction of `_layering` adds up, wavelength by wavelength."""
    option = laid_over(desk)
    if option is None:
        return None
    study, _, dye = option
    bare = smoothest_reflectance(study.bare_lab).reflectance
    today = sum((left * older.density() for older, left in study.coats[:-1]), np.zeros(len(bare)))
    names = headings(desk, "bare", "density-today", "density-bowl")
    weights = [desk.words.say("data.column.weight", of=name) for name in "XYZ"]
    rows = (
        # With exponents: pairs of plain decimals could be read as a place on a map.
        [f"{nm:.0f}", *(f"{value:.4e}" for value in values)]
        for nm, *values in zip(WAVELENGTHS_NM, bare, today, dye.density(), *XYZ_WEIGHTS.T, strict=True)
    )
    return data_file(desk, "layers", ["nm", *names, *weights], rows)


def paths_file(desk: Desk) -> DataFile:
    """The way each colour takes from fresh to bare, in steps."""
    columns = [*headings(desk, "place", "colour", "share"), "L*", "a*", "b*"]
    rows = (
        [
            desk.place(fade.place),
            desk.gate.text("Service.name", fade.label),
            *(f"{value:.2f}" for value in (step * PATH_STEP, *fade.path.lab_at(step * PATH_STEP))),
        ]
        for fade in desk.study.fades
        if fade.measured
        for step in range(round(1 / PATH_STEP) + 1)
    )
    return data_file(desk, "fade-paths", columns, rows)
