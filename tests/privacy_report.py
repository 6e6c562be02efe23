"""Prints how hard somebody tried to find her or to break the tool: `python -m tests.privacy_report`.

Every form is planted, every bad folder compiled and every publication killed again for it; the tests of the same
tables say what must come out.
"""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import journey.pipeline
from journey.audit.report import audit_site
from journey.site.publish import FIXED_TIME, settle
from tests.bad_folders import ROWS, compiled
from tests.canaries import CANARIES, EVERYTHING, OUT_OF_REACH, clean_site, make_site
from tests.further_canaries import FURTHER, MISSED, Form
from tests.metadata_canaries import left_in, planted_sites
from tests.site.test_publish import CHILD
from tests.small_client import small_client
from tests.tamed_folders import TAMED, batches

assert journey.pipeline, "read before the children are made"


def first_forms_found() -> int:
    """Of the 110: by the kind it is."""
    found = 0
    for canary in CANARIES:
        with tempfile.TemporaryDirectory() as place:
            make_site(Path(place), canary)
            found += bool(_kinds(Path(place)) & set(canary.kinds))
    return found


def further_forms_missed() -> list[str]:
    """Names of those the audit did not see."""
    return [form.name for form in FURTHER if not _is_seen(form)]


def _is_seen(form: Form) -> bool:
    with tempfile.TemporaryDirectory() as place:
        clean_site(Path(place))
        form.plant(Path(place))
        settle(Path(place))
        return bool(_kinds(Path(place)) - {"construction"})


def _kinds(site: Path) -> set[str]:
    return {
        one.kind for one in audit_site(site, identifiers=EVERYTHING, fixed_time=FIXED_TIME).findings
    }


def metadata_left() -> tuple[int, int]:
    """How many canaries were put into photos of four formats, and how many are in a finished site."""
    with tempfile.TemporaryDirectory() as place:
        plant = planted_sites(Path(place))
        files = [path for path in sorted((Path(place) / "sites").rglob("*")) if path.is_file()]
        left = {one for path in files for one in left_in(path.read_bytes(), plant)}
    return len(plant.places), len(left)


def bad_folders_refused() -> int:
    """With exit code 1 and the words that name it."""
    refused = 0
    for row in ROWS:
        with tempfile.TemporaryDirectory() as place:
            folder = small_client(Path(place) / "client")
            row.disturb(folder)
            end = compiled(folder, Path(place) / "sites")
            refused += end.code == 1 and row.says in end.said and "Traceback" not in end.said
    return refused


def odd_folders_compiled() -> int:
    """Rows that are let in and compile; that they do no harm is judged by `tests/test_bad_folders.py`."""
    compiled_rows = 0
    for rows in batches():
        with tempfile.TemporaryDirectory() as place:
            folder = small_client(Path(place) / "client")
            for row in rows:
                row.disturb(folder)
            end = compiled(folder, Path(place) / "sites")
            compiled_rows += len(rows) if end.code == 0 and "Traceback" not in end.said else 0
    return compiled_rows


def kills_survived(times: int = 200) -> int:
    """Publications killed at random that left the old site or the new one, whole."""
    with tempfile.TemporaryDirectory() as place:
        command = [sys.executable, "-c", CHILD, str(Path(place) / "class"), str(times)]
        outcome = json.loads(subprocess.run(command, capture_output=True, text=True, check=True).stdout)
    return int(outcome["killed"]) - int(outcome["missing"]) - int(outcome["torn"])


def lines(say: Callable[[str], None]) -> Iterator[str]:
    """The table, a line at a time; `say` is told what is being tried."""
    say("planting forms")
    first, missed = first_forms_found(), further_forms_missed()
    asked = len(CANARIES) + len(OUT_OF_REACH)
    yield f"{'':34}{'tried':>7}{'held':>7}{'not':>6}"
    yield _row("first forms of a name, found", asked, first)
    yield _row("further forms, found", len(FURTHER), len(FURTHER) - len(missed))
    say("planting metadata")
    planted, left = metadata_left()
    yield _row("metadata canaries, gone", planted, planted - left)
    say("compiling bad folders")
    yield _row("bad folders, refused", len(ROWS), bad_folders_refused())
    yield _row("odd but honest folders, compiled", len(TAMED), odd_folders_compiled())
    say("killing publications")
    yield _row("killed publications, survived", 200, kills_survived())
    yield ""
    yield "Not found:"
    yield from (f"  {what}: in the pixels, looked at by people and by the nets" for what in OUT_OF_REACH.values())
    yield from (f"  {name}: {MISSED.get(name, 'no reason is written')}" for name in missed)


def _row(what: str, tried: int, held: int) -> str:
    return f"{what:34}{tried:7}{held:7}{tried - held:6}"


if __name__ == "__main__":
    for line in lines(lambda what: print(f"{what} …", file=sys.stderr)):
        print(line, flush=True)
