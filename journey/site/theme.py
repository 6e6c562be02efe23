"""Finds a theme and its words: templates, styles, the one small script, and labels by language.

Decides where themes live (beside the package in a checkout, in the package `journey_themes` once
installed) and what a label is. What the labels stand on is left to the templates; whole sentences about
a client are made in `journey.edition.wording` from the same words folder.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from journey.record.model import Audience
from journey.site.charts.words import ChartWords
from journey.words_file import read_words

DEFAULT_THEME: Final = "grey_card"


class ThemeError(Exception):
    """A theme, or something a theme has to hold, is not there."""


@dataclass(frozen=True, slots=True)
class Theme:
    """One look: a folder with `templates/`, `styles/`, `words/` and `bench.js`."""

    folder: Path

    @property
    def templates(self) -> Path:
        return self.folder / "templates"

    @property
    def words(self) -> Path:
        """Holds one folder per language."""
        return self.folder / "words"

    def content(self, language: str) -> bytes:
        """The files a page in this language is filled from, with their names; style sheets are none of them."""
        files = [*self.templates.rglob("*"), *(self.words / language).glob("*.yaml"), self.folder / "bench.js"]
        whole = sorted(file for file in files if file.is_file())
        return repr([(file.relative_to(self.folder).as_posix(), file.read_bytes()) for file in whole]).encode()

    def style(self, audience: Audience) -> str:
        """The style sheets one audience needs, as one text without comments and line ends.

        Sheets follow each other by name; one whose name ends in an audience is for that audience alone.
        """
        others = {other.value for other in Audience} - {audience.value}
        sheets = [
            sheet
            for sheet in sorted((self.folder / "styles").glob("*.css"))
            if sheet.stem.rpartition("-")[2] not in others
        ]
        whole = "".join(sheet.read_text(encoding="utf-8") for sheet in sheets)
        return re.sub(r"/\*.*?\*/|\n", "", whole, flags=re.DOTALL) + "\n"

    def sheet_style(self) -> str:
        """The style of the salon's contact sheet, exactly as it is hashed."""
        return (self.folder / "sheet.css").read_text(encoding="utf-8").strip()

    def script(self) -> str:
        """The script that goes into the page, exactly as it is hashed."""
        return (self.folder / "bench.js").read_text(encoding="utf-8").strip()

    def labels(self, language: str) -> Labels:
        """The labels of one language. Raises ThemeError when the theme does not speak it."""
        path = self.words / language / "labels.yaml"
        if not path.is_file():
            raise ThemeError(f"the theme {self.folder.name!r} has no labels in {language!r}")
        written = read_words(path)
        return Labels(language, {str(key): str(text).strip() for key, text in written.items()})

    def chart_words(self, language: str) -> ChartWords:
        """The few words inside charts. Raises ThemeError when the theme does not speak the language."""
        path = self.words / language / "charts.yaml"
        if not path.is_file():
            raise ThemeError(f"the theme {self.folder.name!r} has no words for charts in {language!r}")
        return ChartWords(**read_words(path))


@dataclass(frozen=True, slots=True)
class Labels:
    """Interface words of one language: `labels("figure", n=3)`."""

    language: str
    texts: dict[str, str]

    def __call__(self, key: str, **values: object) -> str:
        """The label with its values filled in. Raises ThemeError for a key the language does not have."""
        if key not in self.texts:
            raise ThemeError(f"no label {key!r} in {self.language!r}")
        return self.texts[key].format_map(values)


def load_theme(name: str = DEFAULT_THEME) -> Theme:
    """The theme of that name. Raises ThemeError when there is none."""
    beside = Path(__file__).resolve().parents[2] / "themes" / name
    if (beside / "templates").is_dir():
        return Theme(beside)
    package = find_spec("journey_themes")
    for place in package.submodule_search_locations or () if package is not None else ():
        installed = Path(place) / name
        if (installed / "templates").is_dir():
            return Theme(installed)
    raise ThemeError(f"no theme {name!r}")
