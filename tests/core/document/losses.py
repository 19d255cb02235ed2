"""What of one JSON text is missing in another, where values that are left out have a default."""

import json
from typing import Any, get_args, get_origin

import msgspec
from msgspec import Struct

from core.document.codec import FORMAT
from core.document.hints import hints_of, without_none
from core.document.migrations import CURRENT_VERSION, FIRST_VERSION
from core.document.plain import Vec3
from core.document.project import KIND_OF_WORD, Layer, Project

NOTHING: tuple[object, ...] = (None, "", False, [])


class RepeatedKeyError(Exception):
    """A text in which a key stands twice, so that one of its values is lost to any reader."""


def plain(text: str) -> Any:  # noqa: ANN401 - walks plain data
    """A JSON text as plain data.

    Raises:
        RepeatedKeyError: a key stands twice.
    """
    return json.loads(text, object_pairs_hook=_object)


def _object(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise RepeatedKeyError(str(pairs)[:200])
    return found


def losses(original: str, saved: str) -> list[str]:
    """Paths of what the original says and the saved text neither says nor implies."""
    old, new = plain(original), json.loads(saved)
    head = [] if old["format"] == new["format"] == FORMAT else ["format"]
    if not FIRST_VERSION <= old["version"] <= new["version"] == CURRENT_VERSION:
        head.append("version")  # an older one is made new, and so loses nothing
    return head + list(
        _lost({k: v for k, v in old.items() if k not in ("format", "version")}, new, Project, "$")
    )


def _lost(old: Any, new: Any, hint: Any, path: str) -> list[str]:  # noqa: ANN401 - walks plain data
    if isinstance(old, dict):
        return _lost_members(old, new, _kind(old, hint), path)
    if isinstance(old, list):
        return _lost_items(old, new, hint, path)
    return [] if _same(old, new) else [path]


def _kind(old: dict[str, Any], hint: Any) -> Any:  # noqa: ANN401 - walks plain data
    """The kind of a thing: by its word where several are possible."""
    bare = without_none(hint)
    if isinstance(bare, type):
        return bare
    return KIND_OF_WORD.get(old.get("kind", ""), Layer)


def _lost_members(old: dict[str, Any], new: Any, kind: Any, path: str) -> list[str]:  # noqa: ANN401 - walks plain data
    if not isinstance(new, dict):
        return [path]
    found: list[str] = []
    for key, value in old.items():
        if key in new:
            found += _lost(value, new[key], _hint(kind, key), f"{path}.{key}")
        elif not _is_default(value, kind, key):
            found.append(f"{path}.{key}")
    return found


def _hint(kind: Any, key: str) -> Any:  # noqa: ANN401 - walks plain data
    is_struct = isinstance(kind, type) and issubclass(kind, Struct)
    return hints_of(kind).get(key, Any) if is_struct else Any


def _is_default(value: Any, kind: Any, key: str) -> bool:  # noqa: ANN401 - walks plain data
    if not (isinstance(kind, type) and issubclass(kind, Struct)):
        return value in NOTHING
    for info in msgspec.structs.fields(kind):
        if info.name == key and not info.required:
            return not _lost(value, msgspec.to_builtins(info.default), info.type, key)
    return False


def _lost_items(old: list[Any], new: Any, hint: Any, path: str) -> list[str]:  # noqa: ANN401 - walks plain data
    """Lists keep every item; a reference may gain its side."""
    if not isinstance(new, list | tuple) or len(new) < len(old):
        return [path]
    bare = without_none(hint)
    inner = get_args(bare)[0] if get_origin(bare) is tuple else (float if bare is Vec3 else Any)
    grown = [] if len(new) == len(old) or (len(old), new[1:]) == (1, ["one"]) else [path]
    return grown + [
        lost
        for number, value in enumerate(old)
        if repr(value) != repr(new[number])  # most are alike, and this is quick
        for lost in _lost(value, new[number], inner, f"{path}[{number}]")
    ]


def _same(old: Any, new: Any) -> bool:  # noqa: ANN401 - walks plain data
    """Equal, however the number is spelt."""
    if isinstance(old, bool) or isinstance(new, bool):
        return old is new
    return bool(old == new)
