"""Seeded damage to the bytes of a file: by disks, by transfers, by editors, by hands."""

import json
import random
import re
from collections.abc import Callable

ROUGH_SHARE = 0.3
Damage = Callable[[random.Random, bytes], bytes]

_TOKEN = re.compile(rb'"(?:[^"\\\n]|\\.)*"|[\[\]{},:]|[^\s\[\]{},:"]+')
_NUMBER = re.compile(rb"(?<=[\[:,])-?\d[\d.eE+-]*")
_STRING = re.compile(rb'(?<=[\[:,])"(?:[^"\\]|\\.)*"')
_MEMBER = re.compile(rb'"[a-z_]+":(?:"(?:[^"\\]|\\.)*"|[^\s"\[\]{},:]+)')
_SIDE = re.compile(rb'"(?:one|left|right)"')
_ID = re.compile(rb'(?<=[\[:])"[a-z_]+\d+"')

NUMBERS = (
    b"1e999 -1e999 1e308 -1e308 1e-400 -0 -0.0 0 -1 1e9 1000000001 1e5 123456.0 1.5 01 +1 1. .5"
    b" 0x10 NaN Infinity null true [] {} 18446744073709551616 -9223372036854775809"
).split()
LONG_NUMBERS = [b'"7"', b'""', b"9" * 400, b"9" * 5000, b"0." + b"3" * 3000, b"1e5000"]

STRINGS = [
    rb'"\ud800"',
    rb'"\udc00\ud800"',
    rb'"\ud83d\ude00"',
    rb'"\u0000"',
    rb'"\n"',
    rb'"\x"',
    rb'"\u00"',
    b'"\x00"',
    b'"\t"',
    b'""',
    b'" "',
    '"\u202egnp.exe\u200b"'.encode(),
    '"\ufeff"'.encode(),
    '"e\u0301 \U0001f6de \u2028"'.encode(),
    '"\u00b2"'.encode(),
    b'"\xed\xa0\x80"',
    b'"\xff\xfe"',
    b'"a.b"',
    b'"0"',
    b'"x" "y"',
    b'"' + b"long " * 2000 + b'"',
    b"7",
    b"null",
    b"[]",
    b'{"a":1}',
]


def _replaced(data: bytes, found: re.Match[bytes], new: bytes) -> bytes:
    return data[: found.start()] + new + data[found.end() :]


def _any_match(chance: random.Random, pattern: re.Pattern[bytes], data: bytes) -> re.Match[bytes]:
    """A random match: the first one behind a random place, or else the first of all."""
    found = pattern.search(data, chance.randrange(len(data) + 1)) or pattern.search(data)
    return found or _nothing(data)


def _nothing(data: bytes) -> re.Match[bytes]:
    found = re.compile(rb"\Z").search(data)
    assert found is not None
    return found


def bit_flipped(chance: random.Random, data: bytes) -> bytes:
    place = chance.randrange(len(data))
    return data[:place] + bytes([data[place] ^ (1 << chance.randrange(8))]) + data[place + 1 :]


def byte_replaced(chance: random.Random, data: bytes) -> bytes:
    place = chance.randrange(len(data))
    return data[:place] + bytes([chance.randrange(256)]) + data[place + 1 :]


def slice_lost(chance: random.Random, data: bytes) -> bytes:
    place = chance.randrange(len(data))
    return data[:place] + data[place + chance.choice((1, 2, 7, 60, 512, 4096)) :]


def block_zeroed(chance: random.Random, data: bytes) -> bytes:
    place, size = chance.randrange(len(data)), chance.choice((1, 16, 512))
    return data[:place] + b"\0" * size + data[place + size :]


def truncated(chance: random.Random, data: bytes) -> bytes:
    return data[: chance.randrange(len(data))]


def said_twice_over(chance: random.Random, data: bytes) -> bytes:
    return data + data[chance.randrange(len(data)) :]


def tokens_swapped(chance: random.Random, data: bytes) -> bytes:
    first = _any_match(chance, _TOKEN, data)
    second = _any_match(chance, _TOKEN, data)
    a, b = sorted((first, second), key=lambda m: m.start())
    if a.end() > b.start():
        return data
    return data[: a.start()] + b[0] + data[a.end() : b.start()] + a[0] + data[b.end() :]


def number_replaced(chance: random.Random, data: bytes) -> bytes:
    return _replaced(data, _any_match(chance, _NUMBER, data), chance.choice(NUMBERS + LONG_NUMBERS))


def number_nudged(chance: random.Random, data: bytes) -> bytes:
    found = _any_match(chance, _NUMBER, data)
    return _replaced(data, found, b"%d.%d" % (chance.randrange(-999, 999), chance.randrange(99)))


def string_replaced(chance: random.Random, data: bytes) -> bytes:
    return _replaced(data, _any_match(chance, _STRING, data), chance.choice(STRINGS))


def string_exchanged(chance: random.Random, data: bytes) -> bytes:
    other = _any_match(chance, _STRING, data)[0]
    return _replaced(data, _any_match(chance, _STRING, data), other)


def side_replaced(chance: random.Random, data: bytes) -> bytes:
    side = chance.choice((b'"one"', b'"left"', b'"right"', b'"LEFT"', b"null"))
    return _replaced(data, _any_match(chance, _SIDE, data), side)


def id_replaced(chance: random.Random, data: bytes) -> bytes:
    other = _any_match(chance, _ID, data)[0]
    ids = (
        other,
        b'"tube999999999"',
        b'"tube0"',
        b'"tube01"',
        b'"car"',
        b'"tube"',
        b'"tube9999999999"',
    )
    return _replaced(data, _any_match(chance, _ID, data), chance.choice((*ids, other, other)))


def member_doubled(chance: random.Random, data: bytes) -> bytes:
    found = _any_match(chance, _MEMBER, data)
    return _replaced(data, found, found[0] + b"," + found[0])


def member_lost(chance: random.Random, data: bytes) -> bytes:
    found = _any_match(chance, re.compile(_MEMBER.pattern + rb",?"), data)
    return _replaced(data, found, b"")


def member_strayed(chance: random.Random, data: bytes) -> bytes:
    other = _any_match(chance, _MEMBER, data)[0]
    found = _any_match(chance, _MEMBER, data)
    return _replaced(data, found, found[0] + b"," + other)


def key_misspelt(chance: random.Random, data: bytes) -> bytes:
    found = _any_match(chance, _MEMBER, data)
    at = found.start() + 1
    return data[:at] + chance.choice((b"X", b"", b"name", "é".encode())) + data[at + 1 :]


def _lines(change: Callable[[random.Random, list[bytes]], None]) -> Damage:
    def damage(chance: random.Random, data: bytes) -> bytes:
        lines = data.split(b"\n")
        change(chance, lines)
        return b"\n".join(lines)

    damage.__name__ = change.__name__
    return damage


def line_lost(chance: random.Random, lines: list[bytes]) -> None:
    del lines[chance.randrange(len(lines))]


def line_doubled(chance: random.Random, lines: list[bytes]) -> None:
    place = chance.randrange(len(lines))
    lines.insert(place, lines[place])


def line_moved(chance: random.Random, lines: list[bytes]) -> None:
    line = lines.pop(chance.randrange(len(lines)))
    lines.insert(chance.randrange(len(lines) + 1), line)


def value_nested_deep(chance: random.Random, data: bytes) -> bytes:
    found = _any_match(chance, _NUMBER, data)
    depth = chance.choice((3, 60, 900, 3000, 100_000))
    opening, closing = chance.choice(((b"[", b"]"), (b'{"a":', b"}")))
    shut = depth if chance.random() < 0.7 else 0
    return _replaced(data, found, opening * depth + found[0] + closing * shut)


def byte_order_marked(_: random.Random, data: bytes) -> bytes:
    return b"\xef\xbb\xbf" + data


def line_ends_changed(chance: random.Random, data: bytes) -> bytes:
    return data.replace(b"\n", chance.choice((b"\r\n", b"\r", b"\n\n", b" \t\n", b"")))


def laid_out_anew(chance: random.Random, data: bytes) -> bytes:
    """As an editor formats it, with the keys of every object in another order."""
    try:
        plain = json.loads(
            data, object_pairs_hook=lambda pairs: dict(chance.sample(pairs, len(pairs)))
        )
        return json.dumps(plain, indent=chance.choice((None, 0, 2)), ensure_ascii=False).encode()
    except (ValueError, RecursionError):
        return data + b" "


def encoded_otherwise(chance: random.Random, data: bytes) -> bytes:
    try:
        return data.decode().encode(chance.choice(("utf-16", "utf-32", "latin-1")), "replace")
    except UnicodeDecodeError:
        return data[::-1]


def head_changed(chance: random.Random, data: bytes) -> bytes:
    old, new = chance.choice(
        (
            (b'"version":2', b'"version":3'),
            (b'"version":2', b'"version":1'),
            (b'"version":2', b'"version":0'),
            (b'"version":2', b'"version":2.0'),
            (b'"version":2', b'"version":' + b"9" * 30),
            (b"jigplate project", b"some other thing"),
            (b'"format"', b'"Format"'),
            (b'"next_number":', b'"next_number":-'),
            (b'"next_number":', b'"next_number":0.'),
            (b'"next_number":', b'"next_number":9999999999'),
        )
    )
    return data.replace(old, new, 1)


ROUGH: tuple[Damage, ...] = (
    bit_flipped,
    byte_replaced,
    slice_lost,
    block_zeroed,
    truncated,
    said_twice_over,
    tokens_swapped,
    value_nested_deep,
    encoded_otherwise,
    head_changed,
    member_lost,
)
"""As disks and transfers do: mostly no JSON is left."""

FINE: tuple[Damage, ...] = (
    number_replaced,
    number_nudged,
    string_replaced,
    string_exchanged,
    side_replaced,
    id_replaced,
    member_doubled,
    member_strayed,
    key_misspelt,
    _lines(line_lost),
    _lines(line_doubled),
    _lines(line_moved),
    byte_order_marked,
    line_ends_changed,
    laid_out_anew,
    number_nudged,
    number_nudged,
)
"""As hands and editors do: mostly it is still JSON."""

DAMAGES = ROUGH + FINE


def corrupted(chance: random.Random, data: bytes) -> bytes:
    """The data with one damage, sometimes with two or three."""
    for _ in range(chance.choice((1, 1, 1, 1, 2, 3))):
        sort = ROUGH if chance.random() < ROUGH_SHARE else FINE
        data = chance.choice(sort)(chance, data) or b" "
    return data
