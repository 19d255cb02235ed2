"""How the source of a figure is shown: its tag, its line, and the words that are told of it."""

from app.look.tags import TagKind
from app.widgets.figures import in_full
from core.document.base import Fact

LONGEST_TAG = 24


def tag_of(fact: Fact | None, hold: str | None) -> tuple[TagKind, str, str]:
    """The kind of a figure's tag, its words, and what is told of it at more length."""
    told = _told(fact, hold)
    if hold and (fact is None or fact.held or fact.source in ("chosen", "guessed")):
        return "held", _short(f"held: {fact.held if fact and fact.held else hold}"), told
    if fact is None:
        return "guessed", "guessed", told
    doubt = "" if fact.uncertainty is None else f" ±{in_full(fact.uncertainty, '')}"
    words = "in hand" if fact.source == "in_hand" else fact.source
    return fact.source, f"{words}{doubt}", told


def line_of(value: object, fact: Fact | None, hold: str | None, *, is_draft: bool) -> str:
    """How the line under a figure is drawn."""
    if is_draft:
        return "rest"
    if value is None:
        return "unknown"
    if hold:
        return "held"
    return "guessed" if fact is None or fact.source == "guessed" else "rest"


def _told(fact: Fact | None, hold: str | None) -> str:
    lines = [f"Held: {hold}." if hold else ""]
    if fact is None:
        lines.append("Nobody has said where this comes from, so it counts as guessed.")
    else:
        lines += [fact.how, fact.when]
        lines += [f"To be kept within ±{in_full(fact.tolerance, '')}." if fact.tolerance else ""]
        lines += ["Set free to move." if fact.free else ""]
    return "\n".join(line for line in lines if line)


def _short(words: str) -> str:
    return words if len(words) <= LONGEST_TAG else f"{words[: LONGEST_TAG - 1].rstrip()}…"
