"""A client of two photos who said yes to all three editions: compiled in a few seconds, with real pictures."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.record.folders import DEMO, sound_folder

LOCK = "maribel-2026-03-07-lock-chart.jpg"
LABEL = "          - 0.3181 0.06 0.1126 0.0884\n"
FIBRES = "LM200_0613_mqo_01.jpg"
RECIPIENTS = """recipients:
  - edition: client
    who: herself, by message
    on: 2026-05-01
  - edition: class
    who: evening course, eleven students
    on: 2026-05-02
"""


def consenting_client(at: Path) -> Path:
    """A fresh folder: photo 'after' is a lock beside a chart, 'at-home' one of single hairs."""
    folder = sound_folder(at)
    for name, source in (("after.jpg", LOCK), ("home.jpg", FIBRES)):
        shutil.copyfile(DEMO / "photos" / source, folder / "photos" / name)
    _rewrite(folder / "salon.yaml", ("name: Salon of the test", "name: Quimera Alta"))
    _rewrite(
        folder / "journey.yaml",
        # A label in the picture says the day.
        ("          - 0.1 0.12 0.2 0.3\n", "          - 0.1 0.12 0.2 0.3\n" + LABEL),
        (
            "        lamp_from: after\n",
            "        lamp_from: after\n        no_face: yes\n        photographer: client\n        patches:\n"
            "          - zone: crown\n            band: ends\n            rect: 0.4 0.35 0.12 0.1\n",
        ),
    )
    grants = "".join(_grant(edition) for edition in ("client", "class", "archive"))
    consent = (folder / "consent.yaml").read_text(encoding="utf-8")
    (folder / "consent.yaml").write_text(
        consent[: consent.index("grants:")] + "grants:\n" + grants + RECIPIENTS, encoding="utf-8"
    )
    return folder


def saw(folder: Path, code: str) -> None:
    """Write down that she saw the sheet of that code."""
    _rewrite(folder / "consent.yaml", ("    health: no\n", f"    seen_sheet: {code}\n    health: no\n"))


def take_back(folder: Path, *lines: str) -> None:
    """Write down a withdrawal."""
    with (folder / "consent.yaml").open("a", encoding="utf-8") as file:
        file.write("withdrawals:\n  - on: 2026-05-10\n    received_by: lena\n")
        file.writelines(f"    {line}\n" for line in lines)


def _grant(edition: str) -> str:
    fields = {
        "given_on": "2026-04-20",
        "method": "signed",
        "asked_by": "lena",
        "wording": "page",
        "expires_on": "2030-03-07",
        "photos": "[after, at-home]",
        "has_seen": "yes",
        "told_copies_cannot_be_recalled": "yes",
        "told_limits_of_anonymity": "yes",
    }
    # Only the class edition asks for a sheet.
    last = "    health: no\n" if edition == "class" else ""
    return f"  - edition: {edition}\n" + "".join(f"    {name}: {value}\n" for name, value in fields.items()) + last


def _rewrite(path: Path, *changes: tuple[str, str]) -> None:
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, (path.name, old)
        text = text.replace(old, new, 1)
    path.write_text(text, encoding="utf-8")
