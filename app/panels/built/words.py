"""What many built cars came to, in words and tables."""

from app.widgets.figure_table import Table
from core.document.lookup import Lookup
from core.quantities import number
from core.study.built import Built, Spread, ToJig
from core.study.corner_points import AXIS_WORDS

NAMES = {"camber": "camber", "toe_in": "toe-in"}


def table_of(built: Built) -> Table:
    """The spread of each figure."""
    rows = tuple(
        (
            f"{each.words}, {each.unit}",
            *(number(value, _digits(each)) for value in (each.drawn, each.low, each.high)),
        )
        for each in built.spreads
    )
    return Table(("", "drawn", "5 % below", "5 % above"), rows)


def _digits(spread: Spread) -> int:
    return 3 if spread.key == "bump_steer" else 2


def spread_words(built: Built) -> str:
    """How far toe-in spreads, as the one figure of a summary."""
    toe = next((each for each in built.spreads if each.key == "toe_in"), None)
    if toe is None:
        return "the wheel does not go through its travel"
    return f"toe-in {number(toe.low, 2)} to {number(toe.high, 2)} deg"


def right_words(built: Built) -> str:
    """What share comes out as wanted, as built and with the adjusters."""
    wanted = " and ".join(_wanted(built))
    words = f"{_percent(built.right_as_built)} of {built.count:,} cars are at {wanted} as built."
    found = built.set_right
    if found is None:
        return f"{words} Nothing is entered that adjusts this corner, so the rest stay off."
    return (
        f"{words} The adjusters bring {_percent(found.share)} there "
        f"({found.agreed} of {found.checked} that were set up exactly came out the same)."
    )


def _wanted(built: Built) -> list[str]:
    drawn = {each.key: each.drawn for each in built.spreads}
    found: list[str] = []
    for each in built.wanted:
        value = drawn.get(each.figure) if each.value is None else each.value
        figure = "the drawn one" if value is None else number(value, 2)
        note = " as drawn" if each.value is None else ""
        found.append(f"{NAMES[each.figure]} {figure} ±{number(each.within, 2)}{note}")
    return found


def _percent(share: float) -> str:
    """A share; one that is not all is not called all."""
    percent = 100.0 * share
    if 0.0 < percent < 0.1:  # noqa: PLR2004 - what is shown with one decimal
        return "under 0.1 %"
    return f"{number(percent, 0 if percent in (0.0, 100.0) else 1)} %"


def reached_words(built: Built) -> str:
    """How many cars do not go through their travel; empty where all do."""
    lost = built.count - built.reached
    return f"{lost:,} of them do not reach all of the travel and have no figures." if lost else ""


def tolerance_words(built: Built) -> str:
    """Which tolerances were taken, and which of them are nobody's."""
    default = [each for each in built.held if each.is_default]
    given = len(built.held) - len(default)
    words = f"{given} of {len(built.held)} coordinates have a tolerance or ± of their own."
    if default:
        words += (
            f" The other {len(default)} count as anywhere within ±{number(default[0].size, 1)} "
            f"({built.default_source}): give a point its tolerance where yours is another."
        )
    return words


def left_out_words(lookup: Lookup, built: Built) -> str:
    """What was not varied or not known."""
    lines = [f"Left out: {each}." for each in built.lacking]
    if built.stiff:
        names = ", ".join(lookup.label(ref) for ref in built.stiff)
        lines.append(f"Left out: {names}, which are of one stiff arm.")
    lines.append("Rods count as made to their drawn lengths; nothing bends.")
    return " ".join(lines)


def point_words(lookup: Lookup, each: ToJig) -> tuple[str, str]:
    """A point, and which way it matters most."""
    mostly = "mostly" if each.of_axis < MOSTLY else "nearly all"
    return lookup.label(each.ref), f"{mostly} {AXIS_WORDS[each.axis]}"


MOSTLY = 0.9


def share_words(built: Built, each: ToJig) -> str:
    """What part of each figure's spread comes from a point, most first."""
    return ", ".join(
        f"{number(100.0 * share, 0)} % of {words}" for words, share in _of(built, each)
    )


def most_words(built: Built, each: ToJig) -> str:
    """The same of the figure that it is most of."""
    words, share = _of(built, each)[0]
    return f"{number(100.0 * share, 0)} % of {words}"


def _of(built: Built, each: ToJig) -> list[tuple[str, float]]:
    pairs = zip((s.words for s in built.spreads), each.of_figures, strict=True)
    return sorted(pairs, key=lambda pair: -pair[1])
