"""The one error of this package: what was typed cannot be read, said in words."""


class QuantityError(ValueError):
    """What a person typed cannot be read as the number or measure asked for.

    Attributes:
        sentence: what is wrong, one sentence.
        position: index in the typed text where it was noticed, from 0.
        advice: what to do about it, one sentence.
    """

    def __init__(self, sentence: str, position: int, advice: str) -> None:
        """Keep the three parts; `str` of the error is sentence and advice."""
        super().__init__(sentence, position, advice)
        self.sentence = sentence
        self.position = position
        self.advice = advice

    def __str__(self) -> str:
        """Return the sentence followed by the advice."""
        return f"{self.sentence} {self.advice}"
