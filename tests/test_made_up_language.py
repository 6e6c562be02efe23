"""The demo in a language whose every word is in brackets: what stands outside them did not come from the theme.

What the folder itself says (her notes, names of zones and products) may stand there, nothing else. So an
English sentence that the code puts on a page is found, whatever it says.
"""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from typing import Any

import html5lib
import pytest
import yaml

from journey.edition.consent import Refusal
from journey.edition.model import Edition
from journey.pipeline import prepare
from journey.record.model import Audience
from journey.site.theme import Theme, load_theme
from tests.demo import DEMO, TODAY, studied_demo
from tests.redone import redo
from tests.site.rendered import render

OPEN, SHUT = "⟦", "⟧"
TOLD_IN_ATTRIBUTES = ("alt", "aria-label", "title")
PIECES = re.compile(r"[\n·,;:.()*]|\d+")
"""Where a text is cut, so that a sentence of hers counts wherever it is quoted."""
SIGNS = frozenset({"CIELAB", "sRGB"})
"""Signs of the trade in colours, the same in every language."""


def _bracketed(node: Any) -> Any:
    if isinstance(node, dict):
        return {key: value if key == "decimal" else _bracketed(value) for key, value in node.items()}
    return [_bracketed(one) for one in node] if isinstance(node, list) else f"{OPEN}{node}{SHUT}"


@pytest.fixture(scope="module")
def theme(tmp_path_factory: pytest.TempPathFactory) -> Theme:
    folder = tmp_path_factory.mktemp("theme") / "grey_card"
    shutil.copytree(load_theme().folder, folder)
    (folder / "words" / "xx").mkdir()
    for path in (folder / "words" / "en").glob("*.yaml"):
        made_up = _bracketed(yaml.safe_load(path.read_text(encoding="utf-8")))
        text = yaml.safe_dump(made_up, allow_unicode=True, sort_keys=False)
        (folder / "words" / "xx" / path.name).write_text(text, encoding="utf-8")
    return Theme(folder)


def _texts(html: str) -> Iterator[str]:
    """Text of the page but for keys and names of files, then what is told in attributes."""
    document = html5lib.parse(html, namespaceHTMLElements=False)
    for dropped in ("script", "style"):
        for parent in document.iter():
            for child in list(parent):
                if parent.attrib.get("class") == "sum" and redo(child.text or "") is not None:
                    # Behind the label of a sum stand signs of a calculator: another test works them out.
                    child.text = (child.text or "").partition(": ")[0]
                if child.tag == dropped or child.attrib.get("class") == "trace":
                    child.text = ""
    yield re.sub(r"\w+\.csv", "", " \n ".join(document.find("body").itertext()))
    for element in document.iter():
        yield from (element.attrib[name] for name in TOLD_IN_ATTRIBUTES if name in element.attrib)


def _outside(text: str) -> Iterator[str]:
    """What stands outside all brackets, piece by piece."""
    depth, piece = 0, ""
    for character in text:
        if character == OPEN:
            if depth == 0:
                yield piece
                piece = ""
            depth += 1
        elif character == SHUT:
            depth -= 1
            assert depth >= 0, "a sentence ends that did not begin"
        elif depth == 0:
            piece += character
    assert depth == 0, "a sentence begins that does not end"
    yield piece


def _plain(text: str) -> str:
    """Letters and digits alone, so that Markdown, quotes and breaks do not matter."""
    return " ".join(re.findall(r"\w+", text.casefold()))


def _said_by_the_folder() -> str:
    told: list[str] = []

    def gather(node: Any) -> None:
        for one in node.values() if isinstance(node, dict) else node if isinstance(node, list) else ():
            gather(one)
        if isinstance(node, (str, int, float)):
            told.append(str(node))

    for name in ("journey.yaml", "salon.yaml"):
        gather(yaml.safe_load((DEMO / name).read_text(encoding="utf-8")))
    told += [path.read_text(encoding="utf-8") for path in sorted((DEMO / "notes").rglob("*.md"))]
    pieces = (_plain(piece) for one in told for piece in PIECES.split(one))
    return f" | {' | '.join(pieces)} | "


def _unworded(html: str) -> list[str]:
    """Pieces with a word in them that neither the theme nor the folder says."""
    folder = _said_by_the_folder()
    found = []
    for text in _texts(html):
        for piece in _outside(text):
            for line in PIECES.split(piece):
                plain = _plain(line)
                words = re.findall(r"[a-zà-ÿ]{3,}", plain)
                # One word alone has to begin or end something the folder says; some word stands in any prose.
                told = (f" {plain} ",) if " " in plain else (f" | {plain} ", f" {plain} | ")
                if words and not any(one in folder for one in told) and line.strip() not in SIGNS:
                    found.append(line.strip())
    return found


def _edition(audience: Audience, theme: Theme) -> Edition:
    edition = prepare(studied_demo(), audience, today=TODAY, theme=theme, language="xx")
    assert not isinstance(edition, Refusal)
    return edition


@pytest.mark.parametrize("audience", list(Audience))
def test_no_word_of_a_page_comes_from_the_code(audience: Audience, theme: Theme) -> None:
    """Every word on the page is the theme's or the folder's."""
    left = _unworded(render(_edition(audience, theme), theme).html)
    assert left == [], "\n".join(dict.fromkeys(left))


def test_the_search_sees_english() -> None:
    """A page with a sentence of the code's own is not passed."""
    page = f"<body><p>{OPEN}said{SHUT} Violet</p><p>it stays as a stain</p><img alt='from the code'></body>"
    assert _unworded(page) == ["it stays as a stain", "from the code"]
