"""One printed table of measured accuracy.

Each module listed in `tests.accuracy.__main__` offers `tables() -> list[Table]`.
"""

from dataclasses import dataclass

Row = tuple[str | float, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """`columns` names every column, `rows` hold ready text or numbers, `note` says what was simulated."""

    title: str
    columns: tuple[str, ...]
    rows: tuple[Row, ...]
    note: str = ""

    def __post_init__(self) -> None:
        for row in self.rows:
            if len(row) != len(self.columns):
                raise ValueError(f"{self.title}: {len(row)} cells under {len(self.columns)} columns")

    def text(self) -> str:
        """The table as aligned plain text; floats with two decimals."""
        cells = [[_cell(value) for value in row] for row in self.rows]
        widths = [
            max(len(line[i]) for line in [list(self.columns), *cells]) for i in range(len(self.columns))
        ]
        lines = [self.title, "-" * len(self.title)]
        for line in [list(self.columns), *cells]:
            padded = (cell.ljust(width) for cell, width in zip(line, widths, strict=True))
            lines.append("  ".join(padded).rstrip())
        if self.note:
            lines.append(self.note)
        return "\n".join(lines)


def _cell(value: str | float) -> str:
    if isinstance(value, str):
        return value
    return f"{value:.2f}" if isinstance(value, float) else str(value)
