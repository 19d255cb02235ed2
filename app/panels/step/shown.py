"""What a step shows besides fields: how much is entered, and what waits on what."""

from collections.abc import Sequence

from core.document.project import Document
from core.study.order import Place
from core.study.steps import StepState, tubes_placed


def counted(document: Document, place: Place) -> list[tuple[str, str]]:
    """What is entered for a step, counted; only where counts are all there is to tell."""
    step, _ = place
    if step == "shell":
        counts = (
            ("shells", len(document.shells)),
            ("openings", len(document.openings)),
            ("people", len(document.occupants)),
            ("pedals, wheel and levers", len(document.controls)),
            ("obstacles", len(document.obstacles)),
        )
        return [(name, f"{count} entered") for name, count in counts if count]
    if step == "bench" and document.tubes:
        placed = tubes_placed(document)
        return [
            ("tubes drawn", str(placed.drawn)),
            ("of these on a guessed joint", str(placed.on_a_guess)),
        ]
    return []


def waiting_lines(here: StepState, steps: Sequence[StepState]) -> list[str]:
    """What the step waits on, and which steps wait on it."""
    lines: list[str] = []
    if here.waits_on:
        lines.append(f"It waits on {_joined(here.waits_on)}.")
    name = f"{here.number} {here.title}"
    waiting = [f"{s.number} {s.title}" for s in steps if name in s.waits_on]
    if waiting:
        verb = "waits" if len(waiting) == 1 else "wait"
        lines.append(f"{_joined(waiting)} {verb} on this step.")
    return lines


def _joined(names: Sequence[str]) -> str:
    if len(names) == 1:
        return names[0]
    return f"{', '.join(names[:-1])} and {names[-1]}"
