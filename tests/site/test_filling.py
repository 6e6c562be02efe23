"""Compiled templates are kept: the second process fills them without compiling."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from jinja2 import Environment

from journey.cache import Cache
from journey.site.filling import environment
from journey.site.theme import Theme, load_theme


def test_a_kept_template_is_not_compiled_again_unless_it_changed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """By its text: an edited one is compiled anew."""
    shutil.copytree(load_theme().folder, tmp_path / "theme")
    theme, cache = Theme(tmp_path / "theme"), Cache.at(tmp_path / "kept")
    environment.cache_clear()
    first = environment(theme, cache).get_template("page.html")
    environment.cache_clear()
    compiled: list[str] = []
    usual = Environment._compile

    def counted(self: Environment, source: str, filename: str) -> object:
        compiled.append(filename)
        return usual(self, source, filename)

    monkeypatch.setattr(Environment, "_compile", counted)
    again = environment(theme, cache)
    assert again.get_template("page.html").name == first.name
    assert compiled == []
    assert again.from_string("{{ 1 + 1 }}").render() == "2"
    assert len(compiled) == 1
    environment.cache_clear()
    environment(theme).get_template("page.html")
    assert len(compiled) == 2
    page = theme.templates / "page.html"
    page.write_text(page.read_text(encoding="utf-8") + "<!-- edited -->", encoding="utf-8")
    environment.cache_clear()
    environment(theme, cache).get_template("page.html")
    assert len(compiled) == 3
