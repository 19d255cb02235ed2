"""Buttons of words in the house's font, wherever and whenever they come into a window."""

from PySide6.QtWidgets import QPushButton

from app.look.style import button


def word_button(words: str, kind: str = "link") -> QPushButton:
    """A button that looks `filled`, `plain`, or like a `link` or a `word`.

    Its font is named outright: one made while its window is open would not inherit it.
    """
    made = button(words, kind)
    made.setProperty("role", "body")
    return made
