from hypothesis import given
from hypothesis import strategies as st

from core.document.base import Fact, Vec3
from core.document.facts import fact_at, hold_reason, source_of
from core.document.steel import Point

AT = Vec3(1.0, 2.0, 3.0)


def point(*facts: Fact) -> Point:
    return Point(id="point1", name="K", pair=True, at=AT, facts=facts)


def test_a_number_without_a_fact_is_guessed() -> None:
    assert fact_at(point(), "left", "at.y") is None
    assert source_of(point(), "left", "at.y") == "guessed"


def test_the_longest_path_that_covers_a_number_counts() -> None:
    thing = point(
        Fact(of="at.y", source="measured"), Fact(source="in_hand"), Fact(of="at", source="chosen")
    )

    assert source_of(thing, "left", "at.y") == "measured"
    assert source_of(thing, "left", "at.x") == "chosen"
    assert source_of(thing, "left", "along.distance") == "in_hand"


def test_a_name_that_only_begins_alike_is_not_covered() -> None:
    assert fact_at(point(Fact(of="carrier")), "left", "carrier_of") is None


def test_a_fact_about_a_side_counts_there_and_before_one_about_both() -> None:
    thing = point(Fact(of="at", source="chosen"), Fact(of="at", side="right", source="measured"))

    assert source_of(thing, "right", "at.x") == "measured"
    assert source_of(thing, "left", "at.x") == "chosen"


def test_a_longer_path_about_both_sides_counts_before_a_shorter_about_one() -> None:
    thing = point(Fact(of="at.x", source="chosen"), Fact(of="at", side="right", source="measured"))

    assert source_of(thing, "right", "at.x") == "chosen"


PATHS = ("", "at", "at.x", "at.y", "along", "along.distance", "carrier")
SIDES = ("one", "left", "right")


@given(st.sets(st.tuples(st.sampled_from(PATHS), st.sampled_from(SIDES))), st.sampled_from(PATHS))
def test_the_fact_that_counts_is_the_first_of_the_walk_from_the_number_outward(
    about: set[tuple[str, str]], path: str
) -> None:
    """Against the plain reading: own side before both, at the number, then branch by branch."""
    facts = [Fact(of=of, side=side, how=f"{of} {side}") for of, side in sorted(about)]  # type: ignore[arg-type]
    steps = path.split(".") if path else []
    branches = [".".join(steps[:n]) for n in range(len(steps), -1, -1)]
    walk = [f"{branch} {side}" for branch in branches for side in ("right", "one")]

    found = fact_at(point(*facts), "right", path)

    hows = [fact.how for fact in facts]
    assert (found.how if found else None) == next((how for how in walk if how in hows), None)


def test_what_is_measured_in_hand_or_held_is_held_unless_set_free() -> None:
    assert hold_reason(Fact(source="measured", how="rule")) == "it is measured (rule)"
    assert hold_reason(Fact(source="in_hand")) == "it is in hand"
    assert hold_reason(Fact(source="chosen", held="the die wants it")) == "the die wants it"
    assert hold_reason(Fact(source="measured", free=True)) is None
    assert hold_reason(Fact(source="chosen")) is None
    assert hold_reason(None) is None
