"""What is being done now, told to a person who is looking on."""

from __future__ import annotations

import sys
from collections.abc import Callable

import click


class Progress:
    """Tells on standard error what is being done now, when a person is looking on."""

    def __enter__(self) -> Callable[[str], None]:
        self._seen = sys.stderr.isatty()
        return self._tell

    def _tell(self, what: str) -> None:
        if self._seen:
            click.echo(f"\r\x1b[K{what} …", nl=False, err=True)

    def __exit__(self, *_: object) -> None:
        if self._seen:
            click.echo("\r\x1b[K", nl=False, err=True)
