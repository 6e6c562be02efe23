"""Every reason the code can give has a sentence with the right places to fill, in every language."""

from __future__ import annotations

import ast
import string
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import yaml

from journey.edition.rules import RULES
from journey.hair.service_rules import RULES as SERVICE_RULES
from journey.site.theme import load_theme
from journey.study.cautions import CAUTIONS

CODE = Path(__file__).parents[2] / "journey"
RAISED = {"NotCalibratableError": "reason", "NoFibreError": "reason", "NotReadableError": "reason"}
SECTION = {"Absent": "absent", "Reason": "reason", **RAISED}
LANGUAGES = sorted(path.parent.name for path in load_theme().words.glob("*/sentences.yaml"))


def _given() -> Iterator[tuple[str, str, frozenset[str]]]:
    """(section, key, names of values) of every reason with a key written out in the code."""
    for path in sorted(CODE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name):
                continue
            if node.func.id not in SECTION or not node.args:
                continue
            first = node.args[0]
            chosen = (first.body, first.orelse) if isinstance(first, ast.IfExp) else (first,)
            for key in chosen:
                if isinstance(key, ast.Constant):
                    names = frozenset(word.arg for word in node.keywords if word.arg)
                    yield SECTION[node.func.id], str(key.value), names


def _places(sentence: Any) -> set[str]:
    texts = sentence.values() if isinstance(sentence, Mapping) else [sentence]
    return {name for text in texts for _, name, _, _ in string.Formatter().parse(str(text)) if name}


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_reason_has_its_sentence(language: str) -> None:
    """No reason without words, no place in a sentence that its reason can not fill, nothing left unsaid."""
    sentences = yaml.safe_load((load_theme().words / language / "sentences.yaml").read_text(encoding="utf-8"))
    given = list(_given())
    assert len(given) > 80
    for section, key, names in given:
        assert key in sentences[section], f"{section}.{key}"
        for version in (key, f"{key}@client", f"{key}@class", f"{key}@archive"):
            if version in sentences[section]:
                assert _places(sentences[section][version]) <= names, f"{section}.{version}"


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_sentence_is_for_a_reason_nobody_gives(language: str) -> None:
    """Words of reasons that are gone go too; keys put together in the code are looked for by their beginning."""
    sentences = yaml.safe_load((load_theme().words / language / "sentences.yaml").read_text(encoding="utf-8"))
    put_together = ("by-", "formula-bowl-", "how-cost", "how-upkeep")
    for section in ("absent", "reason"):
        known = {key for where, key, _ in _given() if where == section}
        for key in sentences[section]:
            plain = key.partition("@")[0]
            assert plain in known or plain.startswith(put_together), f"{section}.{key}"


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_fixed_text_of_the_code_has_its_words(language: str) -> None:
    """Why a field stays behind, where a caution is from, and in what unit a number stands."""
    path = load_theme().words / language / "sentences.yaml"
    phrases = yaml.safe_load(path.read_text(encoding="utf-8"))["phrase"]
    for rule in RULES.values():
        assert rule.why in phrases or not rule.why
    for caution in (*CAUTIONS, *SERVICE_RULES):
        assert caution.source in phrases, caution.source
