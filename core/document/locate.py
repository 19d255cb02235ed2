"""Where in a JSON text a value stands: the line of a path such as `$.drawn.tubes[3].start`."""

import re

_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[\[\]{},:]|[^\s\[\]{},:"]+')
_STEP = re.compile(r"\.([A-Za-z_][A-Za-z_0-9]*)|\[(\d+|\.\.\.)\]")


def line_of(text: str, path: str) -> int:
    """The line, from 1, on which the value at a path begins, or as far as the path leads."""
    wanted = [name or int(number) for name, number in _STEP.findall(path) if number != "..."]
    return text.count("\n", 0, _offset(text, wanted)) + 1


def line_of_offset(data: bytes, offset: int) -> int:
    """The line, from 1, of a byte."""
    return data.count(b"\n", 0, max(offset, 0)) + 1


def _offset(text: str, wanted: list[str | int]) -> int:
    """Offset of the wanted value; walks the tokens with a stack of (key or number) steps."""
    here: list[str | int] = []
    best, best_depth, depth_matched = 0, 0, len(wanted)
    expects_key = False
    for token in _TOKEN.finditer(text):
        mark = token.group()
        if mark in "[{":
            best, best_depth = _deeper(here, wanted, token.start(), best, best_depth)
            here.append(0 if mark == "[" else "")
            expects_key = mark == "{"
        elif mark in "]}":
            if here:
                here.pop()
        elif mark == ",":
            if here and isinstance(here[-1], int):
                here[-1] += 1
            expects_key = bool(here) and isinstance(here[-1], str)
        elif mark == ":":
            expects_key = False
        elif expects_key:
            here[-1] = mark[1:-1]
        else:
            best, best_depth = _deeper(here, wanted, token.start(), best, best_depth)
        if best_depth == depth_matched:
            break
    return best


def _deeper(
    here: list[str | int], wanted: list[str | int], start: int, best: int, best_depth: int
) -> tuple[int, int]:
    depth = len(here)
    if depth > best_depth and here == wanted[:depth]:
        return start, depth
    return best, best_depth
