"""A small client: a folder as `journey start` makes it, with three photos, consent and 13 files in all."""

from __future__ import annotations

from pathlib import Path

import numpy as np
from PIL import Image

from journey.record.starter import start_folder

PHOTOS = "".join(
    f"""      - key: photo-{number}
        file: back-{number}.jpg
        view: back
        moment: after
        light: salon
        patches:
          - zone: crown
            band: mid-lengths
            rect: 0.40 0.35 0.12 0.10
        neutral:
          rect: 0.75 0.84 0.08 0.04
          reflectance: 18 %
        no_face: yes
"""
    for number in (1, 2, 3)
)
GRANTS = """
grants:
  - edition: client
    given_on: 2026-03-07
    method: signed
    asked_by: lena
    wording: client-page
    expires_on: 2046-03-07
    photos: [photo-1, photo-2, photo-3]
"""


def _given_name(seed: int) -> str:
    """A syllable for each digit: no two clients are called alike, as what was looked for in one is kept."""
    syllables = ("ba", "ce", "di", "fo", "gu", "la", "me", "ni", "po", "ru")
    return "Zu" + "".join(syllables[int(digit)] for digit in str(seed))


def small_client(folder: Path, seed: int = 0) -> Path:
    """Make one at `folder`; another seed gives other photos and another name."""
    start_folder(folder)
    if seed:
        identity = folder / "identity.yaml"
        told = identity.read_text(encoding="utf-8").replace("name: Ana ", f"name: {_given_name(seed)} ")
        identity.write_text(told, encoding="utf-8")
    journey = folder / "journey.yaml"
    text = journey.read_text(encoding="utf-8")
    at = text.index("    chair_time: 3 h")
    journey.write_text(f"{text[:at]}    photos:\n{PHOTOS}{text[at:]}", encoding="utf-8")
    consent = folder / "consent.yaml"
    consent.write_text(consent.read_text(encoding="utf-8") + GRANTS, encoding="utf-8")
    for number in (1, 2, 3):
        _photo(1000 * seed + number).save(folder / "photos" / f"back-{number}.jpg", quality=90)
    return folder


def _photo(seed: int) -> Image.Image:
    """Rose strands before a grey card, 1280 x 960."""
    rng = np.random.default_rng(seed)
    rose = np.array([196, 120, 132]) + rng.normal(0, 14, (1, 1280, 1)) + rng.normal(0, 3, (960, 1280, 3))
    rose[780:880, 930:1100] = 119
    return Image.fromarray(np.clip(np.rint(rose), 0, 255).astype(np.uint8))
