"""Addresses in words: what a builder reads where the program writes dots."""

import pytest

from core.document.base import Ref
from core.document.lookup import Lookup
from core.engine.address import Address, parse_address
from core.workshop.plain_address import in_plain_words, plain_address
from tests.core.edits.cars import demo_car


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("K_L.at.z", "height of K_L"),
        ("K_R.at.y", "sideways place of K_R"),
        ("K_L.at.x", "fore and aft place of K_L"),
        ("K_L.at", "place of K_L"),
        ("K_L", "K_L"),
        (
            "rear corner left.upright.hub_face.y",
            "sideways place of the hub face of rear corner left",
        ),
        ("rear corner right.upright.spacer", "spacer (upright) of rear corner right"),
        ("rear wheel.offset", "offset, hub face to rim middle, of rear wheel"),
        ("rear corner left.upright.spin_axis.x", "x (spin axis) of rear corner left"),
    ],
)  # fmt: skip
def test_an_address_is_said_with_the_words_of_the_screen(written: str, said: str) -> None:
    lookup = Lookup(demo_car())

    assert plain_address(lookup, parse_address(lookup, written)) == said


def test_what_is_not_there_stays_as_it_is_written() -> None:
    lookup = Lookup(demo_car())

    assert plain_address(lookup, Address(Ref("point9999"), "at.z")) == "point9999"
    ref = parse_address(lookup, "K_L").ref
    assert plain_address(lookup, Address(ref, "no.such")) == "K_L.no.such"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("K_L.at.z is held: it is measured", "Height of K_L is held: it is measured"),
        ("first K_L.at.z, then K_R.at.", "first height of K_L, then place of K_R."),
        ("K:left.at is held", "Place of K_L is held"),
        ("rear corner left.upright.spacer: no", "Spacer (upright) of rear corner left: no"),
        ("It is 3.5 mm off. Nothing is lost.", "It is 3.5 mm off. Nothing is lost."),
        ("see demo.jigplate of K_L", "see demo.jigplate of K_L"),
    ],
)
def test_a_sentence_is_put_into_words_wherever_an_address_stands(text: str, said: str) -> None:
    assert in_plain_words(Lookup(demo_car()), text) == said
