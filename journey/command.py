"""The command line: reads what was asked, runs the pipeline, gives results and refusals their words.

It alone chooses an exit code: 0 done, 1 refused with reasons on standard error, 2 called wrongly. Heavy modules
are imported where they are used, so that asking for help costs nothing.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from journey.progress import Progress

if TYPE_CHECKING:
    from journey.cache import Cache
    from journey.edition.wording import Wording
    from journey.pipeline import Studied

AUDIENCES = ("client", "class", "archive")

Folder = click.Path(exists=True, file_okay=False, path_type=Path)


class _Day(click.ParamType[date]):
    """A day, year-month-day."""

    name = "day"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> date:
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(str(value))
        except ValueError:
            self.fail(f"{value!r} is not a day; write it as in '2026-03-07'", param, ctx)


def _as_of(command: Callable[..., None]) -> Callable[..., None]:
    return click.option(
        "--as-of",
        type=_Day(),
        help="Study the folder as of this day; the day of its last entry unless given.",
    )(command)


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="colour-journey", prog_name="journey")
def cli() -> None:
    """One client's hair colour, from a folder of YAML and photos to a site for her, a class and the salon."""


@cli.command()
@click.argument("folder", type=click.Path(path_type=Path))
def start(folder: Path) -> None:
    """Make a new FOLDER that reads without a problem, with every file explained inside it."""
    from journey.record.starter import start_folder

    start_folder(folder)
    click.echo(f"{folder} is ready. Write in it, then: journey check {folder}")


@cli.command()
@click.argument("folder", type=Folder)
def check(folder: Path) -> None:
    """Say every problem in FOLDER at once, then the cautions its record gives rise to."""
    from journey.readout import caution_lines
    from journey.record.photo_files import unnamed_photos

    studied = _study(folder, None)
    click.echo(f"{folder}: reads without a problem.")
    for name in unnamed_photos(studied.record, folder):
        click.echo(f"note  photos/{name}: named nowhere in journey.yaml; not opened, never published")
    for weight, word in (("stop", "STOP"), ("ask", "ask ")):
        told = [one for one in studied.study.cautions if one.weight == weight]
        for line in caution_lines(told, _english(studied)):
            click.echo(f"{word}  {line}")


@cli.command()
@click.argument("folder", type=Folder)
@click.option("--format", "form", type=click.Choice(["table", "csv", "json"]), default="table", show_default=True)
@_as_of
def measure(folder: Path, form: str, as_of: date | None) -> None:
    """Read the colour of every marked patch in FOLDER, with uncertainty, method and warnings.

    L*, a*, b* are the body colour, which feeds fades, paths and names; 'afar' (csv, json) is the mean of all
    strands, as the eye sees it from a metre, which feeds the comparison with magnified photos.
    """
    from journey.readout import readings_as

    studied = _study(folder, as_of)
    click.echo(readings_as(form, studied.study, _english(studied)), nl=False)


@cli.command(name="compile")
@click.argument("folder", type=Folder)
@click.option(
    "--for",
    "audiences",
    type=click.Choice(AUDIENCES),
    multiple=True,
    help="Only this edition; may be repeated.",
)
@click.option(
    "--to",
    type=click.Path(file_okay=False, path_type=Path),
    help="Where sites go; FOLDER_sites unless given.",
)
@click.option("--today", type=_Day(), help="The day on which consent is asked for; the real one unless given.")
@_as_of
@click.option(
    "--workers", "count", type=click.IntRange(1, 256), help="Processes to share the work; all there are."
)
@click.option(
    "--cluster", metavar="ADDRESS", help="Share the work with a Dask cluster that sees the same folders."
)
@click.option("--fresh", is_flag=True, help="Make everything anew, and keep nothing of it for the next time.")
@click.pass_obj
def compile_(
    arguments: Sequence[str] | None,
    folder: Path,
    audiences: Sequence[str],
    to: Path | None,
    today: date | None,
    as_of: date | None,
    count: int | None,
    cluster: str | None,
    fresh: bool,
) -> None:
    """Make, audit and publish the sites of FOLDER: one client, or a folder of many clients' folders.

    What is as it was the last time is not made again.
    """
    from journey.clients import ClientJob
    from journey.compiling import compile_many, compile_one
    from journey.record.model import Audience
    from journey.site.theme import load_theme
    from journey.up_to_date import Register, clients_in
    from journey.workers import processors, workers

    whole, target = folder.resolve(), (to or default_target(folder)).resolve()
    clients = [Path(one) for one in clients_in(str(whole))] or [whole]
    register = Register(list(arguments), str(whole), str(target)) if arguments is not None and not fresh else None
    cache = None if fresh else _cache()
    jobs = [
        ClientJob(
            folder=client,
            to=target if client == whole else target / client.name,
            all_sites=target,
            audiences=tuple(Audience(one) for one in audiences or AUDIENCES),
            theme=load_theme(),
            today=today or date.today(),
            today_is_given=today is not None,
            as_of=as_of,
            cache=cache,
        )
        for client in clients
    ]
    with workers(count or processors(), cluster) as executor:
        made_all = (
            compile_one(jobs[0], executor, register)
            if clients == [whole]
            else compile_many(jobs, executor, register)
        )
    if cache is not None:
        cache.sweep_daily()
    if not made_all:
        sys.exit(1)


@cli.command()
@click.argument("folder", type=Folder)
@click.option("--for", "audience", type=click.Choice(AUDIENCES), required=True, help="The edition to look at.")
@click.option("--today", type=_Day(), help="The day on which consent is asked for; the real one unless given.")
@click.option("--sheet", type=click.Path(dir_okay=False, path_type=Path), help="File to write the sheet to.")
@_as_of
def disclose(folder: Path, audience: str, today: date | None, sheet: Path | None, as_of: date | None) -> None:
    """Say what of FOLDER leaves with an edition, what stays, and why; and write it all on one sheet to look at."""
    from journey.edition.consent import Refusal
    from journey.pipeline import prepare
    from journey.readout import ledger_lines
    from journey.record.model import Audience
    from journey.site.contact_sheet import sheet_path
    from journey.site.theme import load_theme
    from journey.vouching import show

    studied, whom = _study(folder, as_of), Audience(audience)
    place, day = sheet or sheet_path(folder, whom), today or date.today()
    shown = show(studied, whom, today=day, theme=load_theme(), sheet=place)
    if isinstance(shown, Refusal):
        _refuse(shown.reasons)
        return
    # Said in the language of this command; the sheet is in the client's.
    told = prepare(studied, whom, today=day, theme=load_theme(), language="en", to_look_only=True)
    assert not isinstance(told, Refusal)
    for line in (*ledger_lines(told), "", f"Everything to look at: {place}", *shown.lines(folder)):
        click.echo(line)


@cli.command()
@click.argument("folder", type=Folder)
@click.option(
    "--for", "audience", type=click.Choice(AUDIENCES), required=True, help="The edition that was looked at."
)
@click.option("--by", required=True, help="Key of the stylist who looked at every photo and read every text.")
@click.option("--sheet", required=True, help="Code on the contact sheet that was looked at.")
@click.option("--today", type=_Day(), help="The day it was looked at; the real one unless given.")
@_as_of
def vouch(folder: Path, audience: str, by: str, sheet: str, today: date | None, as_of: date | None) -> None:
    """Record in FOLDER who looked at what leaves with an edition. Any change to it asks for new eyes."""
    from journey.edition.consent import Refusal
    from journey.record.model import Audience
    from journey.site.theme import load_theme
    from journey.vouching import vouch as record_vouching

    recorded = record_vouching(
        _study(folder, as_of),
        Audience(audience),
        by=by,
        sheet=sheet,
        today=today or date.today(),
        theme=load_theme(),
    )
    if isinstance(recorded, Refusal):
        _refuse(recorded.reasons)
        return
    click.echo(f"{len(recorded)} items of the {audience} edition signed by {by}")


@cli.command()
@click.argument("folder", type=Folder)
@click.argument("key", required=False)
@_as_of
def trace(folder: Path, key: str | None, as_of: date | None) -> None:
    """Follow a number of FOLDER back to its inputs, formula and lines; without KEY, list all keys."""
    from journey.readout import trace_lines

    studied = _study(folder, as_of)
    findings = studied.study.findings
    if key is None:
        for one in findings:
            click.echo(one)
        return
    if key not in findings:
        _refuse([f"no number is called {key!r}", *_near(key, findings)])
    for line in trace_lines(key, findings, folder, _english(studied)):
        click.echo(line)


@cli.command()
@click.argument("folder", type=Folder)
@click.option("--for", "audience", type=click.Choice(AUDIENCES), default="client", show_default=True)
@click.option("--port", type=click.IntRange(1, 65535), default=8765, show_default=True)
def preview(folder: Path, audience: str, port: int) -> None:
    """Show an edition of FOLDER on this machine, and show it anew after each edit. Ctrl-C ends it."""
    from journey.preview import serve

    serve(folder, audience, port, say=click.echo, cache=_cache())


def default_target(folder: Path) -> Path:
    """Beside the folder: 'anna' gives 'anna_sites'."""
    whole = folder.resolve()
    return whole.with_name(f"{whole.name}_sites")


def _study(folder: Path, as_of: date | None) -> Studied:
    from journey.pipeline import study_folder
    from journey.workshop import Workshop

    with Progress() as tell:
        return study_folder(folder, as_of=as_of, progress=tell, workshop=Workshop(_cache()))


def _cache() -> Cache | None:
    """What was kept from earlier runs; without a folder for it nothing is kept, and one line says so."""
    from journey.cache import Cache, CacheFolderError, default_folder

    try:
        return Cache.at(default_folder())
    except CacheFolderError as refused:
        click.echo(f"{refused}; nothing is kept for the next time", err=True)
        return None


def _english(studied: Studied) -> Wording:
    from journey.readout import in_english
    from journey.site.theme import load_theme

    return in_english(studied, load_theme().words)


def _near(key: str, keys: Iterable[str]) -> list[str]:
    from difflib import get_close_matches

    return [f"  perhaps {one}" for one in get_close_matches(key, list(keys), n=3, cutoff=0.4)]


def _refuse(reasons: Sequence[str]) -> None:
    for reason in reasons:
        click.echo(reason, err=True)
    sys.exit(1)


def main() -> None:
    """Run the command line; a refusal is one line each on standard error, never a traceback."""
    from journey.errors import JourneyError

    arguments = sys.argv[2:] if sys.argv[1:2] == ["compile"] else None
    try:
        cli(standalone_mode=True, obj=arguments)
    except JourneyError as refused:
        _refuse(str(refused).splitlines())
