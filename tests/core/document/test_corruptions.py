import random
import re

import pytest

from core.document.codec import decode_project, encode_project
from core.document.errors import FileRefusedError
from core.document.rules import check_project
from tests.core.document.corruptions import DAMAGES, Damage, corrupted
from tests.core.document.losses import losses
from tests.core.document.small_car import DEMO, SECOND, SMALL

FILES = tuple(path.read_bytes() for path in (DEMO, SECOND, SMALL))
SHARDS, EACH = 50, 200
LONGEST = 700


def outcome(data: bytes) -> str:
    """What came of reading damaged data; fails where it is not one of the two that may be."""
    try:
        project = decode_project(data)
    except FileRefusedError as error:
        assert_is_a_sentence(str(error), data)
        return "refused"
    saved = encode_project(project)
    assert check_project(project) == []
    again = decode_project(saved)
    assert again == project
    assert encode_project(again) == saved
    assert losses(data.decode("utf-8-sig"), saved.decode()) == []
    return "read"


def assert_is_a_sentence(words: str, data: bytes) -> None:
    assert words.isprintable()
    assert len(words) <= LONGEST
    found = re.match(r"line (\d+)[:,] ", words)
    if found is None:
        assert words == "this is nested too deep to be a jigplate project"
    else:
        assert 1 <= int(found[1]) <= data.count(b"\n") + 1


@pytest.mark.parametrize("shard", range(SHARDS))
def test_a_damaged_file_is_refused_in_a_sentence_or_read_whole(shard: int) -> None:
    outcomes: set[str] = set()
    for number in range(EACH):
        chance = random.Random(f"{shard} {number}")  # noqa: S311 - damage, no secret
        data = corrupted(chance, FILES[chance.choice((0, 1, 1, 1, 2, 2, 2, 2, 2, 2))])

        outcomes.add(outcome(data))

    assert outcomes == {"refused", "read"}  # else the damages are too rough or too soft


@pytest.mark.parametrize("damage", DAMAGES, ids=lambda damage: damage.__name__)
def test_every_sort_of_damage_does_change_a_file(damage: Damage) -> None:
    chances = [random.Random(seed) for seed in range(20)]  # noqa: S311 - damage, no secret

    changed = [damage(chance, FILES[2]) != FILES[2] for chance in chances]

    assert sum(changed) > len(changed) // 2


def test_ten_thousand_damages_are_tried() -> None:
    assert SHARDS * EACH == 10_000
