"""Options in one table: in words for the client, with numbers for a class, with cost for the archive."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest
import yaml

from journey.edition.model import Cell
from journey.hair import reach
from journey.record.model import Audience
from journey.site.theme import load_theme
from tests.demo import demo_edition, studied_demo

LANGUAGES = sorted(path.parent.name for path in load_theme().words.glob("*/sentences.yaml"))


def _rows(audience: Audience) -> dict[str, tuple[Cell, ...]]:
    table = demo_edition(audience).options_table
    assert table is not None
    assert len(table.columns) == 1 + len(studied_demo().record.journey.options)
    return {row[0].text: row[1:] for row in table.rows}


def _text(cell: Cell) -> str:
    return " ".join((cell.text, *cell.lines))


def test_every_audience_is_told_colours_steps_visits_time_and_what_stands_before_it() -> None:
    """Right after and at 4, 8 and 12 weeks, services in order, visits, minutes, what first, what against."""
    for audience in Audience:
        rows = _rows(audience)
        for name in ("Right after", "After 4 weeks", "After 8 weeks", "After 12 weeks"):
            assert all(cell.hex for cell in rows[name])
        assert all(len(rows["Right after"][number].around) == 2 for number in (0, 1, 2, 4))
        steps = rows["What is done"][2].lines
        assert "Violet taken off" in steps[0]
        assert "Blue teal" in steps[1]
        assert "whole length" in steps[1]
        assert _text(rows["Visits"][4]) == "2 visits 2 weeks apart"
        assert rows["Time in the chair"][2].text == "1 h 5 min"
        assert "strand" in _text(rows["What must come first"][2])
        assert "turns green" in _text(rows["What speaks against it"][2])


def test_the_client_reads_words_the_class_numbers_and_the_archive_cost() -> None:
    """No grams, no L*a*b* and no money on the client's page; no money in class."""
    client, class_, archive = (_rows(audience) for audience in (Audience.CLIENT, Audience.CLASS, Audience.ARCHIVE))
    assert "In the bowls" not in client
    assert not any(part.isdigit() for line in client["Right after"][0].lines for part in line.split())
    assert "Cost" not in client
    assert "Cost" not in class_
    assert class_["In the bowls"][0].text == "70 g"
    numbers = class_["Right after"][0].lines
    assert sum(line.count(",") for line in numbers) >= 6
    # 30 min at 36.00 an hour, 45 and 7 g at 9.80 for 100 g, 18 g at 8.40 for 250 g.
    assert archive["Cost"][0].text == f"{30 / 60 * 36 + 52 * 0.098 + 18 * 0.0336:.2f} EUR"


def test_two_rules_that_come_to_the_same_are_told_to_the_client_once() -> None:
    """Over violet and on new growth, a lighter demi comes out darker: once for her, both rules for a class."""
    told = {
        audience: [
            line.text
            for card in demo_edition(audience).options
            for line in card.against
            if line.text.startswith("Missing warmth put back: ")
        ]
        for audience in Audience
    }
    assert [line.partition(": ")[2] for line in told[Audience.CLIENT]] == [
        "colour does not make hair lighter. Over what is there now it comes out darker than level 7."
    ]
    assert _text(_rows(Audience.CLIENT)["What speaks against it"][4]).count("Missing warmth put back") == 1
    assert len(set(told[Audience.CLASS])) == 2


def test_a_removal_is_told_to_the_client_inside_its_option_and_shown_to_the_class() -> None:
    """Which layer first, about how much stays, where to look again; the board is for class and archive."""
    client = demo_edition(Audience.CLIENT)
    told = {card.title: card.removal for card in client.options}
    words = " ".join(told["Violet off, teal on"])
    assert "Violet comes off first" in words
    assert "20 %" in words
    assert "Hairline" in words
    assert sum(bool(lines) for lines in told.values()) == 1
    assert client.removal is None
    for audience in (Audience.CLASS, Audience.ARCHIVE):
        figure = demo_edition(audience).removal
        assert figure is not None
        assert [table.key for table in figure.tables] == ["removal", "removal-ways", "removal-check"]
        assert len(figure.rows[0][1]) == 4


def test_ladder_says_levels_and_sessions_for_every_target() -> None:
    """From level 5 at 3 levels a session: 9 is four levels and two sessions by way of 7, 8 is three and one."""
    assert studied_demo().record.salon.safe_lift_per_session == 3
    table = next(one for one in demo_edition(Audience.CLASS).tables if one.key == "levels")
    rows = {row[0].text: [cell.text for cell in row] for row in table.rows}
    assert list(rows) == [str(level) for level in range(1, 11)]
    assert rows["9"][1:5] == ["yellow", "violet", "4", "2: to 7 and 9"]
    assert rows["8"][1:5] == ["deep yellow", "violet", "3", "1"]
    assert rows["4"][3:5] == ["0", "0"]
    assert rows["10"][5:] == ["1", "1"]


def test_the_client_is_told_which_colours_show_true_and_which_turn() -> None:
    """Violet over violet holds; teal turns."""
    true, turns = demo_edition(Audience.CLIENT).shades
    assert "Violet direct colour" in true
    assert "Teal direct colour" in turns


def test_touch_up_stands_with_its_sum_and_only_the_archive_sees_its_cost() -> None:
    """Grams for each product, the sum to redo by hand, and money nowhere but in the archive."""
    for audience in (Audience.CLASS, Audience.ARCHIVE):
        table = next(one for one in demo_edition(audience).tables if one.key == "touch-up")
        assert "64 g" in table.note
        assert ("EUR" in " ".join(_text(cell) for row in table.rows for cell in row)) is (
            audience is Audience.ARCHIVE
        )
    assert not [one for one in demo_edition(Audience.CLIENT).tables if one.key == "touch-up"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_obstacle_has_its_sentence_and_what_comes_first(language: str) -> None:
    """Each code of the rules, and each way out of it, in every language."""
    tree = ast.parse(Path(reach.__file__).read_text(encoding="utf-8"))
    calls = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Obstacle"
    ]
    codes = {ast.literal_eval(call.args[0]) for call in calls}
    firsts = {ast.literal_eval(call.args[2]) for call in calls}
    assert len(codes) >= 7
    assert firsts == set(reach.FIRSTS)
    said = yaml.safe_load((load_theme().words / language / "sentences.yaml").read_text(encoding="utf-8"))["reach"]
    assert codes <= set(said)
    assert firsts <= set(said["first"])
