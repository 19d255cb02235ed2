"""Load moved fore and aft and sideways, against published examples and moments about the road."""

from math import degrees

import pytest
from hypothesis import given
from hypothesis import strategies as st

from core.balance.transfer import (
    Driven,
    RollingAxle,
    cornering,
    most_drive_g,
    roll_arm,
    roll_per_g,
    shift_fore_and_aft,
)

BOOK_G = 9.81  # m/s2, as the books below take it
G = 9.80665


def axle(sprung: float, unsprung: float, heights: tuple[float, float], k: float) -> RollingAxle:
    unsprung_height, roll_centre = heights
    return RollingAxle(
        sprung_kg=sprung,
        unsprung_kg=unsprung,
        unsprung_height=unsprung_height,
        roll_centre_height=roll_centre,
        roll_stiffness=k,
        track=1460.0,
    )


def test_load_moved_through_links_and_by_the_wheels_of_a_published_car() -> None:
    """D. Barton, J. Fieldhouse, Automotive Chassis Engineering, 2018, p. 174.

    1280 kg sprung, 54 to 46, roll centres at 70 and 320 mm, track 1460 mm, 0.6 g: 195 and 760 N;
    unsprung 140 kg at 280 mm and 180 kg at 300 mm: 158 and 218 N. With its elastic 1556 and 671 N
    the rear adds up to the 1649 N printed; the front to 1909 N, printed 1919.
    """
    front = axle(1280.0 * 0.54, 140.0, (280.0, 70.0), 20000.0)
    rear = axle(1280.0 * 0.46, 180.0, (300.0, 320.0), 8650.0)

    found = cornering(front, rear, 550.0, 0.6 * BOOK_G / G)

    assert found.front.geometric == pytest.approx(195.0, abs=0.5)
    assert found.rear.geometric == pytest.approx(760.0, abs=0.5)
    assert found.front.unsprung == pytest.approx(158.0, abs=0.5)
    assert found.rear.unsprung == pytest.approx(218.0, abs=0.5)


def test_roll_of_a_published_car() -> None:
    """The same book, equation 3.18: K 28 650 N m/rad, arm 0.365 m, 1280 kg: 10.9 degrees per g."""
    front = axle(1280.0 * 0.54, 140.0, (280.0, 70.0), 20000.0)
    rear = axle(1280.0 * 0.46, 180.0, (300.0, 320.0), 8650.0)
    height = 365.0 + 0.54 * 70.0 + 0.46 * 320.0

    assert roll_arm(front, rear, height) == pytest.approx(365.0)
    assert degrees(roll_per_g(front, rear, 365.0)) == pytest.approx(10.9, abs=0.05)


def test_axle_transfer_of_a_calculator_page() -> None:
    """A calculator on a web page: 750 kg, 1 g, height 520, track 1580: 247 kg.

    All on one stiff axle without roll: its roll centre at the centre of gravity.
    """
    one = RollingAxle(
        sprung_kg=750.0, unsprung_kg=0.0, unsprung_height=0.0, roll_centre_height=520.0,
        roll_stiffness=1000.0, track=1580.0,
    )  # fmt: skip
    none = RollingAxle(
        sprung_kg=0.0, unsprung_kg=0.0, unsprung_height=0.0, roll_centre_height=520.0,
        roll_stiffness=1000.0, track=1580.0,
    )  # fmt: skip

    assert cornering(one, none, 520.0, 1.0).front.whole / G == pytest.approx(246.8, abs=0.05)


@given(
    st.floats(200.0, 900.0),
    st.floats(200.0, 900.0),
    st.floats(-50.0, 250.0),
    st.floats(-50.0, 250.0),
    st.floats(300.0, 700.0),
    st.floats(0.1, 1.2),
)
def test_all_load_moved_balances_the_overturning_moment(
    front_kg: float, rear_kg: float, front_rc: float, rear_rc: float, height: float, g: float
) -> None:
    """Moments about the road: sum of dF t = sum of m a h, and weight times what the body leans."""
    front = axle(front_kg, 60.0, (280.0, front_rc), 20000.0)
    rear = axle(rear_kg, 80.0, (285.0, rear_rc), 30000.0)

    found = cornering(front, rear, height, g)

    sprung = front_kg + rear_kg
    lean = found.roll_rad * roll_arm(front, rear, height)
    overturning = G * (g * (sprung * height + 60.0 * 280.0 + 80.0 * 285.0) + sprung * lean)
    assert (found.front.whole + found.rear.whole) * 1460.0 == pytest.approx(overturning)
    assert 0.0 < found.front_share < 1.0


def test_stiffer_at_the_front_moves_more_at_the_front() -> None:
    soft, stiff = (axle(400.0, 60.0, (280.0, 50.0), k) for k in (10000.0, 20000.0))
    rear = axle(500.0, 80.0, (280.0, 80.0), 15000.0)

    assert (
        cornering(stiff, rear, 450.0, 1.0).front_share
        > cornering(soft, rear, 450.0, 1.0).front_share
    )


def test_springs_too_soft_to_hold_the_body_are_refused() -> None:
    weak = axle(600.0, 60.0, (280.0, 0.0), 1000.0)

    with pytest.raises(ValueError, match="upright"):
        cornering(weak, weak, 500.0, 1.0)
    with pytest.raises(ValueError, match="track"):
        RollingAxle(
            sprung_kg=1.0, unsprung_kg=1.0, unsprung_height=1.0, roll_centre_height=1.0,
            roll_stiffness=1.0, track=0.0,
        )  # fmt: skip


def test_braking_moves_load_ahead() -> None:
    """m a h / l by hand: 900 kg 0.8 g 480 / 2400 = 144 kg."""
    assert shift_fore_and_aft(900.0, -0.8, 480.0, 2400.0) == pytest.approx(-144.0 * G)


@pytest.mark.parametrize(("driven", "wanted"), [("front", 2.889 / 9.81), ("rear", 4.231 / 9.81)])
def test_grip_limit_of_a_car_of_lecture_slides(driven: Driven, wanted: float) -> None:
    """Lecture slides, 2023: 1800 kg, 2.6 m, h 0.7 m, grip 0.7, centre in the middle."""
    assert most_drive_g(0.5, 0.7 / 2.6, 0.7, driven) == pytest.approx(wanted, abs=1e-4)


def test_grip_limit_of_an_example_in_a_book_on_cars() -> None:
    """Example 31.7 of a book on automobiles: 2.75 m, h 0.85, 1.15 m behind the front, grip 0.6."""
    rear = 1.15 / 2.75

    assert most_drive_g(rear, 0.85 / 2.75, 0.6, "all") == 0.6
    assert most_drive_g(rear, 0.85 / 2.75, 0.6, "front") == pytest.approx(0.2945, abs=5e-5)
    assert most_drive_g(rear, 0.85 / 2.75, 0.6, "rear") == pytest.approx(0.3080, abs=5e-5)


def test_a_car_that_rears_up_is_refused() -> None:
    with pytest.raises(ValueError, match="leave the ground"):
        most_drive_g(0.9, 0.6, 1.2, "rear")
    with pytest.raises(ValueError, match="leave the ground"):
        most_drive_g(0.9, 0.6, 1.2, "all")
    with pytest.raises(ValueError, match="leave the ground"):
        most_drive_g(0.5, 1.0, 1.0, "rear")
