"""Where in a JSON text a value stands: the line of a path such as `$.drawn.tubes[3].start`."""

import json
import re
from collections.abc import Iterator
from typing import Final, NamedTuple

_STEP: Final = re.compile(r"\.([A-Za-z_][A-Za-z_0-9]*)|\[(\d+|\.\.\.)\]")
_BLANK: Final = re.compile(r"[ \t\n\r]*")
_HALF: Final = re.compile(r"\\(?:u([dD][89a-fA-F][0-9a-fA-F]{2})|[^\n])")
_decoder: Final = json.JSONDecoder(parse_int=str, parse_float=str, strict=False)
"""Numbers stay text: of some thousand digits they would be refused."""
_strict: Final = json.JSONDecoder(parse_int=str, parse_float=str)


class Member(NamedTuple):
    """One entry of an object or an array, and where it stands."""

    key: str | int
    key_at: int
    value_at: int


class RepeatedKey(NamedTuple):
    """A key that its object holds already."""

    path: str
    line: int


def line_of(text: str, path: str) -> int:
    """The line, from 1, on which the value at a path begins, or as far as the path leads."""
    here = _after_blank(text, 0)
    for name, number in _STEP.findall(path):
        if number == "...":
            break
        step = name or int(number)
        found = next((m.value_at for m in members(text, here) if m.key == step), None)
        if found is None:
            break
        here = found
    return line_at(text, here)


def line_at(text: str, offset: int) -> int:
    """The line, from 1, of a character."""
    return text.count("\n", 0, max(offset, 0)) + 1


def members(text: str, start: int) -> Iterator[Member]:
    """The entries of the object or array that begins at `start`, as far as the text is sound."""
    opening = text[start : start + 1]
    if opening not in ("{", "["):
        return
    here, number = _after_blank(text, start + 1), 0
    try:
        while True:
            member = _keyed(text, here) if opening == "{" else Member(number, here, here)
            yield member
            here = _after_blank(text, _decoder.raw_decode(text, member.value_at)[1])
            if text[here : here + 1] != ",":
                return
            here, number = _after_blank(text, here + 1), number + 1
    except json.JSONDecodeError:  # damaged from here on
        return


def _keyed(text: str, here: int) -> Member:
    key, after = _decoder.raw_decode(text, here)
    colon = _after_blank(text, after)
    if not isinstance(key, str) or text[colon : colon + 1] != ":":
        raise json.JSONDecodeError("no key", text, here)
    return Member(key, here, _after_blank(text, colon + 1))


def _after_blank(text: str, start: int) -> int:
    found = _BLANK.match(text, start)
    return found.end() if found else start


def repeated_key(text: str) -> RepeatedKey | None:
    """The first key that stands a second time in one object; nothing if there is none."""
    return _repeated_in(text, _after_blank(text, 0), "$") if _repeats_a_key(text) else None


def _repeats_a_key(text: str) -> bool:
    """Whether any object of a text holds a key twice; quick, without where."""
    found: list[bool] = []

    def note(pairs: list[tuple[str, object]]) -> None:
        found.append(len({key for key, _ in pairs}) < len(pairs))

    try:
        json.JSONDecoder(
            object_pairs_hook=note, parse_int=str, parse_float=str, strict=False
        ).raw_decode(text, _after_blank(text, 0))
    except json.JSONDecodeError:
        return any(found)
    return any(found)


def _repeated_in(text: str, start: int, path: str) -> RepeatedKey | None:
    seen: set[str | int] = set()
    for member in members(text, start):
        is_key = isinstance(member.key, str)
        inside = f"{path}.{member.key}" if is_key else f"{path}[{member.key}]"
        if member.key in seen:
            return RepeatedKey(inside, line_at(text, member.key_at))
        seen.add(member.key)
        found = _repeated_in(text, member.value_at, inside)
        if found is not None:
            return found
    return None


def line_of_damage(text: str) -> int | None:
    """The line at which a text stops being JSON; nothing if it does not."""
    try:
        after = _strict.raw_decode(text, _after_blank(text, 0))[1]
    except json.JSONDecodeError as error:
        return line_at(text, error.pos)
    rest = _after_blank(text, after)
    return line_at(text, rest) if rest < len(text) else _line_of_half(text)


def _line_of_half(text: str) -> int | None:
    """The line of an escape that is half of a pair of surrogates."""
    high: re.Match[str] | None = None
    for found in _HALF.finditer(text):
        code = found.group(1)
        is_low = code is not None and code[1] in "cdefCDEF"
        if high is not None:
            if not is_low or found.start() != high.end():
                return line_at(text, high.start())
            high = None
        elif is_low:
            return line_at(text, found.start())
        elif code is not None:
            high = found
    return None if high is None else line_at(text, high.start())
