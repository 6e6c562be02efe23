"""A compile as the person at the keyboard is told of it: of one client, or of a whole salon's.

It decides what is said of each client and what is remembered of it for the next time; making the sites is left to
`journey.clients`.
"""

from __future__ import annotations

from collections.abc import Sequence
from concurrent.futures import Executor

import click

from journey.clients import ClientJob, ClientMade, compile_client, compile_clients
from journey.making import Outcome
from journey.progress import Progress
from journey.up_to_date import Register


def compile_one(job: ClientJob, executor: Executor | None, register: Register | None) -> bool:
    """Whether all its editions were made; their lines are told."""
    with Progress() as tell:
        made = compile_client(job, executor, tell)
    for line in made.withdrawal_lines:
        click.echo(line)
    said = [line for outcome in made.outcomes for line in outcome_lines(outcome)]
    for line, is_complaint in said:
        click.echo(line, err=is_complaint)
    if register is not None and made.stand is not None:
        made.stand.said, made.stand.complained = (
            "".join(f"{line}\n" for line, is_complaint in said if is_complaint == wanted)
            for wanted in (False, True)
        )
        register.add(str(job.folder), made.stand)
        register.rewrite()
    return made.is_made


def compile_many(jobs: Sequence[ClientJob], executor: Executor | None, register: Register | None) -> bool:
    """All that are not as they were; the end says who was not made, and why."""
    if register is not None:
        register.load()
    todo = [job for job in jobs if register is None or not register.is_clean(str(job.folder))]
    not_made: list[ClientMade] = []
    taken_back: list[str] = []
    with Progress() as tell:
        for made in compile_clients(todo, executor, tell):
            taken_back += [f"{made.folder.name}: {line.strip()}" for line in made.withdrawal_lines]
            if not made.is_made:
                not_made.append(made)
            if register is not None and made.stand is not None:
                register.add(str(made.folder), made.stand)
    if register is not None:
        register.keep_only([str(job.folder) for job in jobs])
        register.rewrite()
    for line in taken_back:
        click.echo(line)
    click.echo(f"{len(jobs)} clients: {len(todo) - len(not_made)} made, {len(jobs) - len(todo)} as they were")
    for made in not_made:
        click.echo(f"{made.folder.name}: not made", err=True)
        for line in made.problems.splitlines():
            click.echo(f"  {line}", err=True)
        for outcome in made.outcomes:
            for line, is_complaint in outcome_lines(outcome):
                if is_complaint:
                    click.echo(f"  {line}", err=True)
    return not not_made


def outcome_lines(outcome: Outcome) -> list[tuple[str, bool]]:
    """What is told of one edition, and for each line whether it is a complaint."""
    if outcome.site is not None:
        left_out = sum(one.count for one in outcome.withheld)
        told = f"  {left_out} things left out; journey disclose --for {outcome.audience} says which and why"
        link = f"  on the web, name its folder {outcome.link} and tell that address to nobody but her"
        where = [f"{outcome.audience}: {outcome.site / 'index.html'}", told, *([link] if outcome.link else [])]
        where += [f"  {missing}" for missing in outcome.not_looked_for]
        return [(line, False) for line in where]
    why = [*outcome.why_not, *(str(finding) for finding in outcome.findings)]
    return [(f"{outcome.audience}: not published", True), *((f"  {reason}", True) for reason in why)]
