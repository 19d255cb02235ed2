"""One of a few answers, with one of them in force from the beginning."""

from collections.abc import Mapping
from typing import Generic, TypeVar

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from app.look.look import Look
from app.widgets.choice_field import WordsBox

T = TypeVar("T")


class Pick(WordsBox, Generic[T]):
    """A list of words, each of which stands for a value."""

    picked = Signal()
    """Another one was picked by hand."""

    def __init__(
        self, look: Look, words: Mapping[T, str], name: str, parent: QWidget | None = None
    ) -> None:
        """Offer some words; the first one is in force."""
        super().__init__(look, parent)
        self._values: tuple[T, ...] = tuple(words)
        self.setProperty("role", "table")
        self.setAccessibleName(name)
        for text in words.values():
            self.addItem(text)
        self.activated.connect(self._activated)

    @property
    def value(self) -> T:
        """What is in force."""
        return self._values[self.currentIndex()]

    def put(self, value: T) -> None:
        """Put a value in force, without telling."""
        self.setCurrentIndex(self._values.index(value))

    def _activated(self, _number: int) -> None:
        self.picked.emit()
