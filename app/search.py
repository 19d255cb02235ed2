"""Finding by a few letters: what was typed against names, kinds and the other words for them."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

WORD = re.compile(r"[\s/_.,:()«»-]+")

# How good a match is, best first; only the order matters.
_EXACT, _START, _WORD_START, _INSIDE, _SCATTERED = 100.0, 80.0, 60.0, 35.0, 12.0
_OTHER_WORD = 0.7  # a trade word counts less than the name itself
_LONGEST_SCATTER = 3.0  # letters of the name for each letter typed, at most


@dataclass(frozen=True)
class Entry:
    """Something that can be found.

    Attributes:
        name: what it is called on screen.
        kind: what it is, in a word or two.
        also: other words that find it.
        target: what to do with it is the finder's business.
    """

    name: str
    kind: str
    also: tuple[str, ...]
    target: Any


def ranked(entries: Iterable[Entry], typed: str, most: int = 12) -> list[Entry]:
    """The entries that every typed word fits, best first; in order if nothing is typed."""
    wanted = [word for word in WORD.split(typed.casefold()) if word]
    scored = [(score, entry) for entry in entries if (score := _score(entry, typed, wanted)) > 0]
    scored.sort(key=lambda pair: -pair[0])
    return [entry for _, entry in scored[:most]]


def _score(entry: Entry, typed: str, wanted: list[str]) -> float:
    if not wanted:
        return 1.0
    whole = max(
        _fit(entry.name, typed.strip()),
        _OTHER_WORD * max((_fit(word, typed.strip()) for word in entry.also), default=0.0),
    )
    return max(whole, min(_best_fit(entry, word) for word in wanted))


def _best_fit(entry: Entry, word: str) -> float:
    others = max((_fit(other, word) for other in (entry.kind, *entry.also)), default=0.0)
    return max(_fit(entry.name, word), _OTHER_WORD * others)


def _fit(text: str, typed: str) -> float:
    """How well `typed` fits `text`; 0 when it does not."""
    text, typed = text.casefold(), typed.casefold()
    if not typed:
        return 0.0
    if text == typed:
        return _EXACT
    shorter = 1.0 - 0.2 * min(1.0, (len(text) - len(typed)) / 40.0)  # of two, the nearer in length
    if text.startswith(typed):
        return _START * shorter
    if any(part.startswith(typed) for part in WORD.split(text)):
        return _WORD_START * shorter
    if typed in text:
        return _INSIDE * shorter
    return _SCATTERED * shorter if _scattered(text, typed) else 0.0


def _scattered(text: str, typed: str) -> bool:
    """Whether the letters come in order in the text, from its first one on and not far apart."""
    if len(typed) < 3 or text[0] != typed[0]:
        return False
    at = 0
    for letter in typed:
        at = text.find(letter, at) + 1
        if at == 0:
            return False
    return at <= _LONGEST_SCATTER * len(typed)
