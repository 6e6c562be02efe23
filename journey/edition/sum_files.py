"""Numbers that sums need and a page has no room for, to download: fade paths, and a colour over wavelengths."""

from __future__ import annotations

import csv
import io

import numpy as np

from journey.colour.dye import Dye
from journey.colour.observer import WAVELENGTHS_NM, XYZ_WEIGHTS
from journey.colour.spectra import smoothest_reflectance
from journey.edition.desk import Desk
from journey.edition.model import DataFile
from journey.record.model import PlannedService
from journey.study import predicting
from journey.study.growing import COLOURING, reaches
from journey.study.model import OptionStudy

LAYERS_FILE = "layers.csv"
PATHS_FILE = "fade-paths.csv"
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
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    say = desk.words.say
    names = [say(f"data.column.{name}") for name in ("bare", "density-today", "density-bowl")]
    writer.writerow(["nm", *names, *(say("data.column.weight", of=name) for name in "XYZ")])
    for row in zip(WAVELENGTHS_NM, bare, today, dye.density(), *XYZ_WEIGHTS.T, strict=True):
        # With exponents: pairs of plain decimals could be read as a place on a map.
        writer.writerow([f"{row[0]:.0f}", *(f"{value:.4e}" for value in row[1:])])
    return DataFile(name=LAYERS_FILE, label=desk.words.say("data.layers"), text=text.getvalue())


def paths_file(desk: Desk) -> DataFile:
    """The way each colour takes from fresh to bare, in steps."""
    text = io.StringIO(newline="")
    writer = csv.writer(text)
    names = [desk.words.say(f"data.column.{name}") for name in ("place", "colour", "share")]
    writer.writerow([*names, "L*", "a*", "b*"])
    for fade in desk.study.fades:
        if not fade.measured:
            continue
        for step in range(round(1 / PATH_STEP) + 1):
            lab = fade.path.lab_at(step * PATH_STEP)
            name = desk.gate.text("Service.name", fade.label)
            numbers = [f"{step * PATH_STEP:.2f}", *(f"{value:.2f}" for value in lab)]
            writer.writerow([desk.place(fade.place), name, *numbers])
    return DataFile(name=PATHS_FILE, label=desk.words.say("data.paths"), text=text.getvalue())
