"""The file: canonical JSON, one thing a line with its facts in that line."""

import json
import re
import shutil
from pathlib import Path
from typing import Any

import msgspec

from core.document.base import Plain
from core.document.errors import FileRefusedError
from core.document.locate import line_of, line_of_offset
from core.document.lookup import entities
from core.document.mesh_store import MeshStore, write_atomically
from core.document.migrations import CURRENT_VERSION, migrate
from core.document.project import KINDS, Document, Layer, Project
from core.document.records import Reading
from core.document.references import mesh_refs
from core.document.rules import Fault, check_project

FORMAT = "jigplate project"
SUFFIX = ".jigplate"
LARGEST_FILE = 64 * 1024 * 1024
_BOM = b"\xef\xbb\xbf"


class _Head(msgspec.Struct):
    format: str
    version: int


class _File(Plain, frozen=True, kw_only=True):
    """The whole of a file of the current version."""

    format: str
    version: int
    drawn: Document
    layers: tuple[Layer, ...] = ()
    readings: tuple[Reading, ...] = ()


_encoder = msgspec.json.Encoder()
_decoder = msgspec.json.Decoder(_File)


def encode_project(project: Project) -> bytes:
    """The bytes of a project file: the same project always gives the same bytes."""
    drawn = [f'"next_number":{project.drawn.next_number}'.encode()]
    drawn += [
        _list(field, getattr(project.drawn, field))
        for field in KINDS
        if getattr(project.drawn, field)
    ]
    parts = [
        f'"format":"{FORMAT}","version":{CURRENT_VERSION}'.encode(),
        b'"drawn":{' + b",\n".join(drawn) + b"}",
    ]
    parts += [
        _list(field, getattr(project, field))
        for field in ("layers", "readings")
        if getattr(project, field)
    ]
    return b"{" + b",\n".join(parts) + b"}\n"


def _list(field: str, things: tuple[Plain, ...]) -> bytes:
    lines = b",\n".join(_encoder.encode(thing) for thing in things)
    return b'"%s":[\n%s\n]' % (field.encode(), lines)


def decode_project(data: bytes) -> Project:
    """The project in the bytes of a file.

    Raises:
        FileRefusedError: in one sentence, with line and path, what is wrong with them.
    """
    data = data.removeprefix(_BOM)
    try:
        file = _decode(data)
    except RecursionError as error:
        msg = "the file is nested too deep to be a project"
        raise FileRefusedError(msg) from error
    project = Project(drawn=file.drawn, layers=file.layers, readings=file.readings)
    _refuse_faults(data, project)
    if encode_project(project) != data:
        _refuse_repeated_keys(data)
    return project


def _decode(data: bytes) -> _File:
    version = _version(data)
    if version == CURRENT_VERSION:
        return _as_current(data)
    plain = migrate(msgspec.json.decode(data), version)
    return _as_current(msgspec.json.encode(plain))


def _version(data: bytes) -> int:
    try:
        head = msgspec.json.decode(data, type=_Head)
    except msgspec.ValidationError as error:
        msg = f"this is not a {FORMAT}: {_sentence(error)}"
        raise FileRefusedError(msg) from error
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise _damaged(data, error) from error
    if head.format != FORMAT:
        msg = f"this file says it is a «{head.format[:60]}», not a {FORMAT}"
        raise FileRefusedError(msg)
    if not 1 <= head.version <= CURRENT_VERSION:
        msg = (
            f"this file is of version {head.version}; this program reads versions 1 to "
            f"{CURRENT_VERSION}, so it needs a newer program"
        )
        raise FileRefusedError(msg)
    return head.version


def _as_current(data: bytes) -> _File:
    try:
        return _decoder.decode(data)
    except msgspec.ValidationError as error:
        path = _path(error)
        line = line_of(data.decode("utf-8", "replace"), path)
        msg = f"line {line}, {path}: {_sentence(error)}"
        raise FileRefusedError(msg) from error
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise _damaged(data, error) from error


def _damaged(data: bytes, error: Exception) -> FileRefusedError:
    found = re.search(r"byte (\d+)|position (\d+)", str(error))
    offset = int(found.group(1) or found.group(2)) if found else len(data)
    reason = str(error).split(" (byte")[0].removeprefix("JSON is malformed: ")
    return FileRefusedError(
        f"line {line_of_offset(data, offset)}: the file is damaged or cut short ({reason})"
    )


def _path(error: msgspec.ValidationError) -> str:
    found = re.search(r"at `(\$[^`]*)`\s*$", str(error))
    return found.group(1) if found else "$"


def _sentence(error: msgspec.ValidationError) -> str:
    return re.sub(r" - at `\$[^`]*`\s*$", "", str(error))


def _refuse_faults(data: bytes, project: Project) -> None:
    faults = check_project(project)
    if faults:
        path = _path_of(project, faults[0])
        line = line_of(data.decode("utf-8", "replace"), path)
        msg = f"line {line}, {path}: {faults[0].words}"
        raise FileRefusedError(msg)


def _path_of(project: Project, fault: Fault) -> str:
    lists: list[tuple[str, tuple[Any, ...]]] = [
        (f"$.drawn.{field}", getattr(project.drawn, field)) for field in KINDS
    ]
    lists += [("$.layers", project.layers), ("$.readings", project.readings)]
    for name, things in lists:
        for number, thing in enumerate(things):
            if thing.id == fault.id:
                return f"{name}[{number}].{fault.path}"
    return "$"


def _refuse_repeated_keys(data: bytes) -> None:
    """Refuse a hand-edited file that says a thing twice, for one of the two would be lost."""

    def pairs(items: list[tuple[str, object]]) -> None:
        keys = [key for key, _ in items]
        for key in keys:
            if keys.count(key) > 1:
                raise FileRefusedError(_repeated_key(data, key))

    json.loads(data, object_pairs_hook=pairs)


def _repeated_key(data: bytes, key: str) -> str:
    text = data.decode("utf-8", "replace")
    for number, line in enumerate(text.splitlines(), 1):
        if line.count(f'"{key}"') > 1:
            return f"line {number}: «{key}» is written twice in one thing; remove one of them"
    return f"«{key}» is written twice in one thing; remove one of them"


def read_project(path: Path) -> Project:
    """The project in a file.

    Raises:
        FileRefusedError: in one sentence what is wrong with it.
    """
    try:
        if path.stat().st_size > LARGEST_FILE:
            msg = f"{path.name} is larger than {LARGEST_FILE // 2**20} MB; it is no project file"
            raise FileRefusedError(msg)
        data = path.read_bytes()
    except OSError as error:
        msg = f"{path} cannot be read: {error.strerror or error}"
        raise FileRefusedError(msg) from error
    try:
        return decode_project(data)
    except FileRefusedError as error:
        msg = f"{path.name}: {error}"
        raise FileRefusedError(msg) from error


def write_project(project: Project, path: Path, meshes: MeshStore | None = None) -> None:
    """Write a project: its meshes first, then the file; the previous version is kept beside it.

    Args:
        project: what to write.
        path: the file, replaced whole or not at all.
        meshes: where its meshes are now, when that is not the store beside `path`.

    Raises:
        OSError: the folder or the disk refuses; the old file is untouched.
    """
    store = MeshStore.beside(path)
    if meshes is not None:
        store.take_from(meshes, wanted_meshes(project))
    data = encode_project(project)
    if path.exists():
        previous = path.with_name(path.name + ".previous")
        shutil.copy2(path, previous)
    write_atomically(path, data)


def wanted_meshes(project: Project) -> list[str]:
    """The SHA-256 of every mesh that the project refers to."""
    refs = mesh_refs(entities(project.drawn))
    laid = mesh_refs(thing for layer in project.layers for thing in layer.put)
    return sorted({ref.sha256 for ref in (*refs, *laid)})
