"""The picture in the README is one of the real window, and anyone can take it again."""

from pathlib import Path

import pytest
from PIL import Image

import draw_window
from app.look.tokens import LIGHT

README_PICTURE = Path(__file__).resolve().parents[2] / "assets" / "pictures" / "window.png"
MOST_BYTES = 400_000


def colour(name: str) -> tuple[int, int, int]:
    red, green, blue = bytes.fromhex(name.removeprefix("#"))
    return red, green, blue


@pytest.mark.usefixtures("qapp")
def test_it_has_its_size_all_the_colours_of_the_look_and_is_small(tmp_path: Path) -> None:
    target = tmp_path / "window.png"

    draw_window.draw(target)

    assert target.stat().st_size < MOST_BYTES
    with Image.open(target) as taken:
        assert taken.size == (1600, 900)
        whole = taken.convert("RGB")
        seen = {at for _, at in whole.getcolors(1_500_000) or []}
        assert whole.getpixel((4, 4)) == colour(LIGHT["page"])
    for name in ("fine", "tight", "sel", "panel", "ink"):
        assert colour(LIGHT[name]) in seen, name


def test_the_one_in_the_readme_is_such_a_picture() -> None:
    assert README_PICTURE.stat().st_size < MOST_BYTES
    with Image.open(README_PICTURE) as kept:
        assert kept.size == (1600, 900)
