"""The look: contrast by the WCAG formula, and a second cue beside every colour."""

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFontDatabase, QFontMetricsF, QImage, QPainter, QRawFont
from pytestqt.qtbot import QtBot

from app.look import icons, marks, tags
from app.look.fonts import CUTS, FAMILY, font, load_fonts
from app.look.look import Look, Theme
from app.look.program_mark import program_icon
from app.look.signs import VerdictMark
from app.look.style import stylesheet
from app.look.tokens import DARK, LIGHT, NAMES, ColourName
from core.engine.finding import WORDS, Verdict

TEXT: tuple[ColourName, ...] = (
    "ink",
    "ink2",
    "ink3",
    "fine",
    "tight",
    "no",
    "unknown",
    "sel",
    "left",
    "right",
    "measured",
    "guessed",
)
SIGNS = "\u2212\u00b1\u00d7\u00b0\u2264\u2265\u2192\u00bd\u00ab\u00bb\u2026\u2019"
AA_TEXT, AA_CONTROL = 4.5, 3.0  # WCAG 2.1, success criteria 1.4.3 and 1.4.11


def luminance(colour: QColor) -> float:
    """Relative luminance; W3C, WCAG 2.1, definitions."""

    def linear(part: float) -> float:
        return part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4

    red, green, blue = (linear(c) for c in (colour.redF(), colour.greenF(), colour.blueF()))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio; W3C, WCAG 2.1, definitions."""
    low, high = sorted((luminance(QColor(one)), luminance(QColor(other))))
    return (high + 0.05) / (low + 0.05)


def test_the_contrast_formula_gives_21_for_black_on_white() -> None:
    # W3C, WCAG 2.1: contrast ratios range from 1 to 21.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)
    assert contrast("#777777", "#777777") == pytest.approx(1.0)


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("ground", ["panel", "card", "well"])
@pytest.mark.parametrize("name", TEXT)
def test_every_ink_can_be_read_on_every_ground(
    colours: dict[ColourName, str], name: ColourName, ground: ColourName
) -> None:
    assert contrast(colours[name], colours[ground]) >= AA_TEXT


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
@pytest.mark.parametrize("verdict", list(WORDS))
def test_a_verdict_can_be_read_on_its_own_wash(
    colours: dict[ColourName, str], verdict: Verdict
) -> None:
    wash: ColourName = f"wash_{verdict}"  # type: ignore[assignment]  # one of four names

    assert contrast(colours[verdict], colours[wash]) >= AA_TEXT


@pytest.mark.parametrize("colours", [LIGHT, DARK], ids=["light", "dark"])
def test_outlines_of_controls_and_words_on_filled_buttons_stand_out(
    colours: dict[ColourName, str],
) -> None:
    for ground in ("panel", "card", "well"):
        assert contrast(colours["edge"], colours[ground]) >= AA_CONTROL
    assert contrast(colours["on_sel"], colours["sel"]) >= AA_TEXT
    assert contrast(colours["tight_bars"], colours["tight_mark"]) >= AA_TEXT


def test_every_colour_has_a_value_in_both_themes() -> None:
    for name in NAMES:
        assert QColor(LIGHT[name]).isValid()
        assert QColor(DARK[name]).isValid()


def _alone(look: Look, verdict: Verdict) -> bytes:
    """What a mark covers, with its colours left out."""
    picture = QImage(32, 32, QImage.Format.Format_ARGB32)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    marks.paint_verdict(painter, look, verdict, QRectF(0, 0, 32, 32))
    painter.end()
    return bytes(picture.convertToFormat(QImage.Format.Format_Alpha8).constBits())


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_verdicts_differ_by_shape_alone(theme: Theme) -> None:
    look = Look(theme)
    pictures = {verdict: _alone(look, verdict) for verdict in WORDS}

    assert all(any(picture) for picture in pictures.values())
    assert len(set(pictures.values())) == len(WORDS)


def test_handles_and_sides_differ_by_shape() -> None:
    shapes = [marks.handle_path(shape) for shape in marks.HANDLES]
    sides = [marks.side_path(side) for side in ("left", "right", "one")]

    for paths in (shapes, sides):
        assert all(not path.isEmpty() for path in paths)
        assert all(a != b for i, a in enumerate(paths) for b in paths[:i])


def test_every_sign_is_drawn_inside_its_margin() -> None:
    for name in icons.NAMES:
        box = icons.icon_path(name).boundingRect()
        assert box.left() >= 1.4, name
        assert box.top() >= 1.4, name
        assert box.right() <= 18.6, name
        assert box.bottom() <= 18.6, name


def test_the_typeface_is_there_with_figures_of_one_width() -> None:
    assert load_fonts()
    assert FAMILY in QFontDatabase.families()
    for role in CUTS:
        metrics = QFontMetricsF(font(role, 1.0))
        widths = {round(metrics.horizontalAdvance(digit), 3) for digit in "0123456789"}
        assert len(widths) == 1, role


def test_the_typeface_has_the_signs_that_figures_need() -> None:
    load_fonts()
    raw = QRawFont.fromFont(font("body", 1.0))

    assert raw.familyName().startswith(FAMILY)
    assert [sign for sign in SIGNS if not raw.supportsCharacter(ord(sign))] == []


def test_words_that_are_alike_are_drawn_apart() -> None:
    look = Look("light")

    def drawn(words: str) -> bytes:
        picture = QImage(60, 20, QImage.Format.Format_Grayscale8)
        picture.fill(Qt.GlobalColor.white)
        painter = QPainter(picture)
        painter.setFont(look.font("body"))
        painter.drawText(2, 15, words)
        painter.end()
        return bytes(picture.constBits())

    assert len({drawn(words) for words in ("fine", "fill", "tight", "fire", "file")}) == 5


def test_all_sizes_follow_one_factor(qtbot: QtBot) -> None:
    look = Look("light")

    with qtbot.waitSignal(look.changed):
        look.set_scale(2.0)

    assert look.px(12) == 24
    assert look.font("car").pixelSize() == 42
    assert "font-size: 42px" in stylesheet(look)


@pytest.mark.parametrize(("asked", "got"), [(0.1, 0.9), (5.0, 2.0), (1.3, 1.3)])
def test_the_scale_stays_in_its_range(asked: float, got: float) -> None:
    assert Look("light", asked).scale == got


def test_the_theme_changes_every_surface_at_once(qtbot: QtBot) -> None:
    look = Look("light")

    with qtbot.waitSignal(look.changed):
        look.set_theme("dark")

    assert look.is_dark
    assert look.colour("page") == QColor(DARK["page"])
    assert DARK["card"] in stylesheet(look)


def test_a_mark_says_its_word_to_a_screen_reader(qtbot: QtBot) -> None:
    mark = VerdictMark(Look("light"), "unknown")
    qtbot.addWidget(mark)
    assert mark.accessibleName() == "don't know"

    mark.show_verdict("no")

    assert mark.accessibleName() == "no"


def test_a_tag_is_as_wide_as_its_words_at_every_scale(qtbot: QtBot) -> None:
    look = Look("light")
    tag = tags.SourceTag(look, "measured", "measured ±1.5")
    qtbot.addWidget(tag)
    before = tag.sizeHint()

    look.set_scale(1.5)

    assert tag.sizeHint().width() > before.width() * 1.3
    assert tag.sizeHint().height() == 27
    assert tag.accessibleName() == "measured ±1.5"


def test_the_program_has_a_mark_in_every_size_a_desktop_asks_for() -> None:
    sizes = {size.width() for size in program_icon().availableSizes()}

    assert {16, 32, 48, 256} <= sizes
