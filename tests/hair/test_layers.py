"""What one place of the fibre carries."""

from __future__ import annotations

import pytest

from journey.hair.layers import Coat, Layers


def coat(service="pink", colour_class="direct", share=1.0):
    return Coat(
        service=service,
        colour_class=colour_class,
        name=service,
        applied_day=0,
        washes_before=0,
        share=share,
    )


NATURAL = Layers(natural_level=5)
LIFTED = NATURAL.lightened("lift", 0, 9, {})


def test_lifted_level_stays_underneath():
    """The level a lightener reached stays under a direct colour (common practice, no source)."""
    coloured = LIFTED.coated(coat())
    assert coloured.lifted_level == coloured.level == 9
    assert coloured.natural_level == 5


def test_lightener_never_darkens():
    """Lightener over hair lighter than the level named leaves it at its own level."""
    assert LIFTED.lightened("again", 30, 7, {}).level == 9
    assert NATURAL.lifted_level is None


def test_layers_come_off_in_reverse():
    """Under the top coat shows the one laid before it, then the lifted level (common practice, no source)."""
    both = LIFTED.coated(coat("pink")).coated(coat("violet"))
    below = both.under_the_top()
    assert isinstance(below, Coat)
    assert below.name == "pink"
    assert LIFTED.coated(coat()).under_the_top() == 9
    assert LIFTED.under_the_top() == 9


def test_a_removal_takes_its_own_class_only():
    """A remover of direct colour leaves what is held otherwise."""
    both = LIFTED.coated(coat("black", "permanent")).coated(coat("pink"))
    left = both.stripped({"direct": 0.1})
    assert [kept.share for kept in left.coats] == [1.0, 0.1]
    assert left.stripped({"direct": 0.5}).coats[1].share == pytest.approx(0.05)


def test_untouched_is_neither_lightened_nor_coloured():
    """Hair that was lightened, or coloured, or both, is no longer untouched."""
    assert NATURAL.is_untouched
    assert not LIFTED.is_untouched
    assert not NATURAL.coated(coat()).is_untouched


def test_gone_coats_are_history():
    """A coat with next to nothing left no longer stands, yet is remembered."""
    gone = LIFTED.coated(coat()).stripped({"direct": 0.01})
    assert gone.standing() == ()
    assert len(gone.coats) == 1
    assert not gone.is_untouched
    assert LIFTED.coated(coat()).standing(lambda _: 0.015) == ()


@pytest.mark.parametrize(
    "wrong",
    [
        lambda: coat(colour_class="vivid"),
        lambda: coat(share=1.2),
        lambda: NATURAL.stripped({"direct": 1.5}),
        lambda: NATURAL.stripped({"vivid": 0.5}),
        lambda: NATURAL.found_porous("very"),
    ],
)
def test_what_can_not_be(wrong):
    """Unknown classes, porosities and shares outside 0 to 1 are refused."""
    with pytest.raises(ValueError, match=r"no colour class|share from 0 to 1|no porosity"):
        wrong()


def test_notes():
    """Porosity is as last noted; treatments are kept in order."""
    noted = NATURAL.found_porous("low").found_porous("high").treated("bond").treated("mask")
    assert (noted.porosity, noted.treatments) == ("high", ("bond", "mask"))
