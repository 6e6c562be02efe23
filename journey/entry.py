"""Where the installed command begins: if nothing changed since the last compile, this is all that runs.

It decides nothing; what counts as a change stands in `journey.up_to_date`. Everything else is imported when there
is something to do.
"""

from __future__ import annotations

import sys


def main() -> None:
    """Say what was said before when it still holds; else hand over to the command line."""
    arguments = sys.argv[1:]
    if arguments[:1] == ["compile"]:
        held = still_holds(arguments[1:])
        if held is not None:
            sys.stdout.write(held[0])
            sys.stderr.write(held[1])
            return
    import gc
    import os

    # What is made here mostly stays to the end: looking for what to throw away takes a twentieth of the time.
    gc.set_threshold(100_000, 50, 100)
    # The work is shared among processes; threads inside the numeric library would only be in their way.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from journey.command import main as command

    command()


def still_holds(arguments: list[str]) -> tuple[str, str] | None:
    """What the last compile with these arguments said, on either output, if it would make the same sites again."""
    from journey.up_to_date import Register, clients_in

    register = Register(arguments)
    if not register.load():
        return None
    clients = clients_in(register.folder)
    if not clients or not all(register.is_clean(client) for client in clients):
        return None
    if clients == [register.folder]:
        stand = register.stands[register.folder]
        return stand.said, stand.complained
    return f"{len(clients)} clients, nothing changed\n", ""
