"""What is wrong with a file, told in one sentence with its line and its path."""

import re
from collections.abc import Generator
from contextlib import contextmanager
from typing import Final

import msgspec

from core.document.errors import Fault, FileRefusedError
from core.document.locate import line_at, line_of, line_of_damage, repeated_key
from core.document.paths import NoSuchPathError, step_into
from core.document.project import KINDS, Project

LONGEST_SENTENCE: Final = 300


@contextmanager
def told(text: str) -> Generator[None]:
    """Turn what the decoder says of a text into one sentence with its line.

    Raises:
        FileRefusedError: the sentence.
    """
    try:
        yield
    except msgspec.ValidationError as error:
        refuse_repeated_keys(text)
        words, path = words_and_path(error)
        raise FileRefusedError(sentence(text, path, words)) from error
    except msgspec.DecodeError as error:
        found = re.search(r"\(byte (\d+)\)", str(error))
        reason = str(error).split(" (byte")[0].removeprefix("JSON is malformed: ")
        line = _line_of_byte(text, int(found.group(1))) if found else _line_of_damage(text)
        msg = f"line {line}: the file is damaged or cut short ({plain_words(reason)})"
        raise FileRefusedError(msg) from error


def _line_of_byte(text: str, offset: int) -> int:
    return text.encode()[:offset].count(b"\n") + 1


def _line_of_damage(text: str) -> int:
    return line_of_damage(text) or line_at(text, len(text))


def words_and_path(error: msgspec.ValidationError) -> tuple[str, str]:
    """What the decoder says, and the path in the file that it says it of."""
    found = re.search(r"(.*?)(?: - at `(\$[^`]*)`)?\s*$", str(error), re.DOTALL)
    return (found.group(1), found.group(2) or "$") if found else (str(error), "$")


def sentence(text: str, path: str, words: str) -> str:
    """Words about a path of a text, with the line it is on."""
    return f"line {line_of(text, path)}, {path}: {plain_words(words)}"


def plain_words(words: str) -> str:
    """Words fit for one line: what comes from the file may hold anything."""
    printable = "".join(c if c.isprintable() else " " for c in words[: LONGEST_SENTENCE + 1])
    return printable if len(words) <= LONGEST_SENTENCE else printable[:LONGEST_SENTENCE] + "…"


def path_of(project: Project, fault: Fault) -> str:
    """Where in the file a fault stands; of two things of one id the later."""
    if not fault.id:
        return f"$.drawn.{fault.path}"
    lists = [(f"$.drawn.{field}", getattr(project.drawn, field)) for field in KINDS]
    lists += [("$.layers", project.layers), ("$.readings", project.readings)]
    lists += [(f"$.layers[{n}].put", layer.put) for n, layer in enumerate(project.layers)]
    found = "$"
    for name, things in lists:
        for number, thing in enumerate(things):
            if thing.id == fault.id:
                found = f"{name}[{number}]{_json_steps(thing, fault.path)}"
    return found


def _json_steps(thing: object, path: str) -> str:
    """A path inside a thing as it is in the file: lists by number."""
    steps, value = "", thing
    for step in path.split(".") if path else ():
        try:
            key, value = step_into(value, step)
        except NoSuchPathError:
            break
        steps += f".{key}" if isinstance(key, str) else f"[{key}]"
    return steps


def refuse_repeated_keys(text: str) -> None:
    """Refuse a hand-edited file that says a thing twice, for one of the two would be lost.

    Raises:
        FileRefusedError: with line and path of the second.
    """
    found = repeated_key(text)
    if found is not None:
        path = plain_words(found.path)
        msg = f"line {found.line}, {path}: this is written twice in one thing; remove one of them"
        raise FileRefusedError(msg)
