"""A theme's words and where it is found."""

from __future__ import annotations

import re
import tomllib
from dataclasses import fields, replace
from pathlib import Path

import pytest
import yaml

from journey.record.model import Audience
from journey.site.theme import ThemeError, load_theme
from tests.edition_example import example_edition
from tests.site.rendered import render

ROOT = Path(__file__).parents[2]
THEME = load_theme()
LANGUAGES = sorted(path.parent.name for path in THEME.words.glob("*/labels.yaml"))
COMPUTED = {"weight_stop", "weight_ask", "weight_mind"}
"""Labels whose key is put together from a caution's weight."""
OF_THE_WHOLE_PAGE = {"with_a_number"}
"""Asked for once a page is filled."""


def keys_in_templates() -> set[str]:
    said = "".join(path.read_text(encoding="utf-8") for path in sorted(THEME.templates.glob("*.html")))
    return set(re.findall(r'\bt\("([a-z_]+)"[,)]', said)) | COMPUTED | OF_THE_WHOLE_PAGE


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_label_is_there_and_used(language: str) -> None:
    """A language has exactly the labels the templates ask for."""
    assert set(THEME.labels(language).texts) == keys_in_templates()


@pytest.mark.parametrize("language", LANGUAGES)
def test_languages_fill_in_the_same_values(language: str) -> None:
    """Where English names a value, so does every other language."""
    english, other = THEME.labels("en").texts, THEME.labels(language).texts
    for key, text in english.items():
        assert sorted(re.findall(r"\{(\w+)\}", other[key])) == sorted(re.findall(r"\{(\w+)\}", text)), key


def test_a_missing_word_or_theme_says_so() -> None:
    """An unknown label, language or theme is an error that names it, not a gap on a page."""
    with pytest.raises(ThemeError, match="nothing-like-it"):
        THEME.labels("en")("nothing-like-it")
    with pytest.raises(ThemeError, match="'xx'"):
        THEME.labels("xx")
    with pytest.raises(ThemeError, match="no-such-theme"):
        load_theme("no-such-theme")


def test_each_reader_gets_only_her_own_styles() -> None:
    """A class's boards weigh nothing on the client's phone."""
    assert ".board" in THEME.style(Audience.CLASS)
    assert ".board{" not in THEME.style(Audience.CLIENT)
    assert ".visits" not in THEME.style(Audience.CLIENT)
    assert "/*" not in THEME.style(Audience.CLASS)


def test_the_built_package_takes_the_themes_along() -> None:
    """The build lists every package there is, and `journey_themes` stands for the themes folder."""
    tool = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["setuptools"]
    on_disk = {".".join(path.parent.relative_to(ROOT).parts) for path in ROOT.glob("journey/**/__init__.py")}
    assert set(tool["packages"]) - {"journey_themes"} == on_disk
    assert tool["package-dir"]["journey_themes"] == "themes"
    patterns = tool["package-data"]["journey_themes"]
    files = [path for path in (ROOT / "themes").rglob("*") if path.is_file()]
    assert files
    assert [f for f in files if not any(f.match(p) for p in patterns)] == []


def test_words_are_plain_yaml_text() -> None:
    """Label files hold one text a key: no lists, no switches read as yes and no."""
    for language in LANGUAGES:
        written = yaml.safe_load((THEME.words / language / "labels.yaml").read_text(encoding="utf-8"))
        assert all(isinstance(key, str) and isinstance(text, str) for key, text in written.items())


@pytest.mark.parametrize("language", LANGUAGES)
def test_charts_speak_every_language_of_the_labels(language: str) -> None:
    """A language brings every word inside charts."""
    written = yaml.safe_load((THEME.words / language / "charts.yaml").read_text(encoding="utf-8"))
    assert set(written) == {field.name for field in fields(THEME.chart_words(language))}


def test_a_page_is_in_one_language() -> None:
    """A Spanish edition says so to the browser and has no English label left on its page."""
    html = render(replace(example_edition(Audience.CLIENT), language="es")).html
    assert '<html lang="es"' in html
    assert "Cuándo refrescar" in html
    assert "para refrescar" in html
    assert "When to refresh" not in html
