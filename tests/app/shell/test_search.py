"""Finding by the words of either side of the ocean."""

import pytest

from app.search import Entry, ranked
from app.trade_words import TRADE_WORDS, also


def entry(name: str, kind: str = "thing") -> Entry:
    return Entry(name, kind, (*also(name), *also(kind)), name)


ENTRIES = [
    entry("anti-roll bar"),
    entry("rear tyre", "tyre"),
    entry("left drive shaft", "drive shaft"),
    entry("engine and gearbox"),
    entry("M59_backstay_R", "tube"),
    entry("K_L", "point"),
    entry("track rod"),
    entry("bump steer"),
    entry("windscreen"),
]


def names(typed: str) -> list[str]:
    return [found.name for found in ranked(ENTRIES, typed)]


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("sway bar", "anti-roll bar"),
        ("tire", "rear tyre"),
        ("half shaft", "left drive shaft"),
        ("powertrain", "engine and gearbox"),
        ("tie rod", "track rod"),
        ("ride steer", "bump steer"),
        ("windshield", "windscreen"),
        ("rear brace", "M59_backstay_R"),
        ("node", "K_L"),
    ],
)
def test_a_word_of_the_other_country_finds_the_thing(typed: str, found: str) -> None:
    assert found in names(typed)


def test_a_few_letters_in_order_find_a_thing() -> None:
    assert names("eng gear")[0] == "engine and gearbox"
    assert "engine and gearbox" in names("engrbx")


def test_the_beginning_of_a_name_comes_before_its_middle() -> None:
    found = ranked([entry("stub axle rack"), entry("rack")], "rack")

    assert [one.name for one in found] == ["rack", "stub axle rack"]


def test_every_typed_word_must_fit() -> None:
    assert names("rear engine") == []
    assert names("rear tyre") == ["rear tyre"]


def test_nothing_typed_finds_all_in_order() -> None:
    assert names("") == [one.name for one in ENTRIES]


def test_capitals_and_underlines_do_not_matter() -> None:
    assert names("m59 BACKSTAY")[0] == "M59_backstay_R"


def test_every_trade_word_finds_what_it_stands_for() -> None:
    for word, others in TRADE_WORDS.items():
        for other in others:
            assert ranked([entry(word)], other), (word, other)
