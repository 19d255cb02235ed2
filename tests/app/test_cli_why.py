"""The command `why`, and what is said when an address leads nowhere."""

import pytest

from app.__main__ import main
from tests.app.cars import DEMO

Capture = pytest.CaptureFixture[str]


def why(capsys: Capture, address: str) -> tuple[int, str, str]:
    code = main(["why", str(DEMO), address])
    out, err = capsys.readouterr()
    return code, out, err


def test_a_number_tells_its_value_its_source_and_what_rests_on_it(capsys: Capture) -> None:
    code, out, _ = why(capsys, "drive_shaft_L.length")
    assert code == 0
    assert out.startswith("drive_shaft_L.length is 480.48 mm")  # as in the neutral file
    assert "measured ± 0.6" in out
    assert "drive_shaft_L is within its stroke" in out


def test_a_number_that_others_decide_tells_which(capsys: Capture) -> None:
    code, out, _ = why(capsys, "corner2:left.upright.hub_face.y")
    assert code == 0
    assert "held: the drive shafts decide the width" in out
    assert "drive_shaft_L.length is 480.48 mm" in out


@pytest.mark.parametrize(
    ("address", "meant"),
    [
        ("K_M", "«K_L»"),
        ("K_L.at.q", "«at.y»"),
        ("K_L.foo.y", "«K_L.at.y»"),
        ("drive_shaft_L.lenght", "«length»"),
        ("poimt21:left", "«point21»"),
    ],
)
def test_an_address_that_leads_nowhere_names_near_ones(
    address: str, meant: str, capsys: Capture
) -> None:
    code, out, err = why(capsys, address)
    assert (code, out, err.count("\n")) == (2, "", 1)
    assert meant in err


def test_one_side_of_a_pair_is_asked_for(capsys: Capture) -> None:
    code, _, err = why(capsys, "K.at.y")
    assert code == 2
    assert "say «K:left» or «K:right»" in err


@pytest.mark.parametrize("address", ["K_L.at.y.z", "K_L.at.yy", "A_lo", "K_M"])
def test_what_was_perhaps_meant_is_said_once(address: str, capsys: Capture) -> None:
    _, _, err = why(capsys, address)
    assert err.count("did you mean") + err.count("perhaps you mean") == 1


@pytest.mark.parametrize("address", ["point1", "point1.at", "rear corner"])
def test_what_names_two_sides_is_not_offered_again(address: str, capsys: Capture) -> None:
    _, _, err = why(capsys, address)
    name = address.partition(".")[0]
    assert err == f"«{name}» is a pair; say «{name}:left» or «{name}:right»\n"
