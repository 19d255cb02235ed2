"""Tyre sizes against listed diameters and a published American figure."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.driveline.tyre import tyre_size
from tests.oracles.tyres import half_up, listed_diameter


@pytest.mark.parametrize(
    ("text", "listed"),
    [
        # UN Regulation 30 / ISO 4000-1 size tables, from memory.
        ("145/80R12", 537),
        ("155/80R13", 578),
        ("175/70R13", 576),
        ("185/60R14", 578),
        ("195/50R15", 577),
        ("195/65R15", 635),
        ("205/55R16", 632),
        ("225/45R17", 634),
        ("205/50R15", 587),  # a half: 102.5 rounds up to 103
        ("185/55R15", 585),  # 101.75 rounds to 102
    ],
)
def test_the_rule_gives_the_listed_diameter(text: str, listed: int) -> None:
    assert listed_diameter(tyre_size(text)) == listed


def test_an_american_size_has_its_published_diameter() -> None:
    # US Tire & Rim Association figure for P205/60R15 as posted by a tyre engineer, 1999: 24.69 in.
    assert tyre_size("P205/60R15").diameter / 25.4 == pytest.approx(24.69, abs=0.006)


@pytest.mark.parametrize(
    ("text", "radius"), [("205/50R15", 293.5), ("185/55R15", 292.5), ("155/70R13", 274.1)]
)
def test_unloaded_radius_is_rim_and_height_without_rounding_the_rim(
    text: str, radius: float
) -> None:
    assert tyre_size(text).unloaded_radius == pytest.approx(radius, abs=1e-9)


@pytest.mark.parametrize("text", ["205/50 R15", "205/50R15 86V", " 205/50zr15 ", "205/50 R 15"])
def test_usual_ways_of_writing_are_read_alike(text: str) -> None:
    assert tyre_size(text) == tyre_size("205/50R15")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "205",
        "155R13",  # no aspect ratio: not guessed
        "205/50-15",
        "205/50R15x",
        "20/50R15",
        "207/50R15",
        "205/53R15",
        "205/05R15",
        "205/50R45",
        "205/50R1",
        "7Jx15",
        "20\u0665/50R15",
    ],
)
def test_nonsense_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="tyre"):
        tyre_size(text)


def test_a_half_rounds_up_and_not_to_the_even_number() -> None:
    assert [half_up(x) for x in (101.75, 102.5, 103.5, 102.49)] == [102, 103, 104, 102]


@given(
    section=st.sampled_from(range(125, 336, 10)),
    aspect=st.sampled_from(range(25, 81, 5)),
    rim=st.integers(12, 20),
)
def test_section_height_is_within_half_a_millimetre(section: int, aspect: int, rim: int) -> None:
    size = tyre_size(f"{section}/{aspect}R{rim}")

    assert -0.5 < size.section_height - section * aspect / 100 <= 0.5
    assert size.diameter == pytest.approx(25.4 * rim + 2 * size.section_height)
