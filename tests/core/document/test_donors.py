from core.document.base import Vec3
from core.document.donors import DonorOn, DonorPoint, usual_links


def points(**on: DonorOn) -> tuple[DonorPoint, ...]:
    return tuple(DonorPoint(role=r, at=Vec3(0.0, 0.0, 0.0), on=where) for r, where in on.items())


def ends(found: tuple[DonorPoint, ...]) -> list[tuple[str, str, str]]:
    return [(link.name, link.inner, link.outer) for link in usual_links(found)]


def test_the_legs_of_an_arm_go_to_its_one_outer_point_and_a_rod_to_its_own() -> None:
    found = points(
        lower_inner_front="chassis",
        lower_inner_rear="chassis",
        lower_outer="upright",
        tie_inner="rack",
        tie_outer="upright",
    )

    assert ends(found) == [
        ("lower_front", "lower_inner_front", "lower_outer"),
        ("lower_rear", "lower_inner_rear", "lower_outer"),
        ("tie", "tie_inner", "tie_outer"),
    ]


def test_an_outer_point_of_the_same_words_goes_before_one_of_fewer() -> None:
    found = points(
        arm_inner_front="chassis",
        arm_inner_rear="chassis",
        arm_outer_front="upright",
        arm_outer="upright",
    )

    assert ends(found) == [
        ("arm_front", "arm_inner_front", "arm_outer_front"),
        ("arm_rear", "arm_inner_rear", "arm_outer"),
    ]


def test_what_has_no_partner_or_is_on_the_wrong_part_makes_no_link() -> None:
    found = points(
        upper_inner="chassis",
        lower_inner="chassis",
        lower_outer="chassis",
        strut_top="chassis",
        tie_inner="upright",
        tie_outer="upright",
    )

    assert ends(found) == []
