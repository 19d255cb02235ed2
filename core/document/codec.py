"""The file: canonical JSON, one thing a line with its facts in that line."""

from pathlib import Path
from typing import Final

import msgspec

from core.document.atomic import refuse_what_is_no_file, write_atomically
from core.document.base import Plain
from core.document.errors import FileRefusedError
from core.document.locate import line_at, line_of
from core.document.lookup import entities
from core.document.mesh_store import MeshStore
from core.document.migrations import CURRENT_VERSION, FIRST_VERSION, migrate
from core.document.power import MeshRef
from core.document.project import KINDS, Document, Layer, Project
from core.document.records import Reading
from core.document.references import mesh_refs
from core.document.rules import check_project
from core.document.telling import (
    path_of,
    plain_words,
    refuse_repeated_keys,
    sentence,
    told,
    words_and_path,
)

FORMAT: Final = "jigplate project"
SUFFIX: Final = ".jigplate"
LARGEST_FILE: Final = 4 * 1024 * 1024
"""Bytes; some sixty times a whole car. What is larger would not be read in a few seconds."""

MOST_LAYERS: Final = 30
_BOM: Final = b"\xef\xbb\xbf"


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

    def check(self) -> None:
        """Refuse more layers than a person lays over a car; each is laid when the file is read."""
        if len(self.layers) > MOST_LAYERS:
            msg = f"a project has at most {MOST_LAYERS} layers"
            raise ValueError(msg)


_encoder: Final = msgspec.json.Encoder()
_decoder: Final = msgspec.json.Decoder(_File)
_head_decoder: Final = msgspec.json.Decoder(_Head)


def encode_project(project: Project) -> bytes:
    """The bytes of a project file: the same project always gives the same bytes."""
    drawn = project.drawn
    inside = [b'"next_number":%d' % drawn.next_number]
    inside += [_list(f, things) for f in KINDS if (things := getattr(drawn, f))]
    parts = [
        b'"format":%s,"version":%d' % (_encoder.encode(FORMAT), CURRENT_VERSION),
        b'"drawn":{' + b",\n".join(inside) + b"}",
    ]
    parts += [_list(f, things) for f in ("layers", "readings") if (things := getattr(project, f))]
    return b"{" + b",\n".join(parts) + b"}\n"


def _list(field: str, things: tuple[Plain, ...]) -> bytes:
    lines = b",\n".join(_encoder.encode(thing) for thing in things)
    return b'"%s":[\n%s\n]' % (field.encode(), lines)


def decode_project(data: bytes) -> Project:
    """The project in the bytes of a file.

    Raises:
        FileRefusedError: in one sentence, with line and path, what is wrong with them.
    """
    if len(data) > LARGEST_FILE:
        msg = f"this is larger than {LARGEST_FILE // 2**20} MB, so it is no {FORMAT}"
        raise FileRefusedError(msg)
    data = data.removeprefix(_BOM)
    text = _text(data)
    try:
        return _decoded(data, text)
    except RecursionError as error:
        msg = f"this is nested too deep to be a {FORMAT}"
        raise FileRefusedError(msg) from error


def _text(data: bytes) -> str:
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start].decode("utf-8")
        msg = f"line {line_at(before, len(before))}: the file is damaged, or not written in UTF-8"
        raise FileRefusedError(msg) from error


def _decoded(data: bytes, text: str) -> Project:
    version = _version(data, text)
    if version != CURRENT_VERSION:
        data = _made_new(data, version)
    with told(text):
        file = _decoder.decode(data)
    project = Project(drawn=file.drawn, layers=file.layers, readings=file.readings)
    if encode_project(project) != data:  # written by hand, so a key may stand twice
        refuse_repeated_keys(text)
    _refuse_faults(project, text)
    return project


def _version(data: bytes, text: str) -> int:
    with told(text):
        try:
            head = _head_decoder.decode(data)
        except msgspec.ValidationError as error:
            words, path = words_and_path(error)
            line = line_of(text, path)
            msg = f"line {line}, {path}: this is not a {FORMAT}: {plain_words(words)}"
            raise FileRefusedError(msg) from error
    if head.format != FORMAT:
        found = plain_words(head.format)[:60]
        msg = f"line {line_of(text, '$.format')}: this says it is a «{found}», not a {FORMAT}"
        raise FileRefusedError(msg)
    if not FIRST_VERSION <= head.version <= CURRENT_VERSION:
        raise FileRefusedError(_other_version(head.version, line_of(text, "$.version")))
    return head.version


def _other_version(version: int, line: int) -> str:
    newer = version > CURRENT_VERSION
    shown = "a newer version" if newer else "an unknown version"
    remedy = "open it with a newer program" if newer else "it was damaged or written by hand"
    reads = f"version {FIRST_VERSION} to {CURRENT_VERSION}" if CURRENT_VERSION > 1 else "version 1"
    return f"line {line}: the file is of {shown}, and this program reads {reads}; {remedy}"


def _made_new(data: bytes, version: int) -> bytes:
    try:
        return msgspec.json.encode(migrate(msgspec.json.decode(data), version))
    except (ValueError, msgspec.MsgspecError) as error:
        msg = f"this file of version {version} cannot be made new: {plain_words(str(error))}"
        raise FileRefusedError(msg) from error


def _refuse_faults(project: Project, text: str) -> None:
    faults = check_project(project)
    if faults:
        raise FileRefusedError(sentence(text, path_of(project, faults[0]), faults[0].words))


def read_project(path: Path) -> Project:
    """The project in a file.

    Raises:
        FileRefusedError: in one sentence what is wrong with it.
    """
    try:
        return decode_project(_bytes_of(path))
    except FileRefusedError as error:
        msg = f"{path.name or path}: {error}"
        if _is_file(previous_of(path)):
            msg += f"; the version before it is {previous_of(path).name}"
        raise FileRefusedError(msg) from error


def _bytes_of(path: Path) -> bytes:
    """All of a file, or as much as shows that it is too large; never waits for a pipe."""
    try:
        if path.exists() and not path.is_file():
            msg = "this is no file"
            raise FileRefusedError(msg)
        with path.open("rb") as stream:
            return stream.read(LARGEST_FILE + 1)
    except OSError as error:
        msg = f"it cannot be read: {error.strerror or error}"
        raise FileRefusedError(msg) from error


def _is_file(path: Path) -> bool:
    """Whether a file is there; a name too long for the disk is none."""
    try:
        return path.is_file()
    except OSError:
        return False


def previous_of(path: Path) -> Path:
    """Where the version before the last that was written is kept."""
    return path.parent / f"{path.name}.previous"


def write_project(project: Project, path: Path, meshes: MeshStore | None = None) -> tuple[str, ...]:
    """Write a project: its meshes first, then the file; the previous version is kept beside it.

    What could not be read again is not written.

    Args:
        project: what to write.
        path: the file, replaced whole or not at all.
        meshes: where its meshes are now, when that is not the store beside `path`.

    Returns:
        The SHA-256 of each mesh that the project refers to and that is not whole beside the file.

    Raises:
        FileRefusedError: the project contradicts itself, so that no file could hold it.
        OSError: the folder or the disk refuses, or it is no ordinary file; it is untouched.
    """
    refuse_what_is_no_file(path)
    data = _readable_bytes(project)
    store = MeshStore.beside(path)
    absent = store.take_from(meshes or store, wanted_meshes(project))
    if path.exists():
        old = path.read_bytes()
        if old == data:
            return absent
        write_atomically(previous_of(path), old, mode_of=path)
    write_atomically(path, data)
    return absent


def _readable_bytes(project: Project) -> bytes:
    """The bytes of a project that can be read again as what it is.

    Raises:
        FileRefusedError: they cannot; undo leads back to a project that can be saved.
    """
    remedy = "undo the last edits"
    try:
        data = encode_project(project)
        same = decode_project(data) == project
    except (FileRefusedError, UnicodeEncodeError) as error:
        faults = check_project(project)
        words = faults[0].words if faults else str(error)
        msg = f"this car cannot be saved as it is: {words}; {remedy}"
        raise FileRefusedError(msg) from error
    if not same:
        msg = f"this car would not be read as it is now, so it was not saved; {remedy}"
        raise FileRefusedError(msg)
    return data


def wanted_meshes(project: Project) -> list[str]:
    """The SHA-256 of every mesh that the project refers to."""
    refs = [*mesh_refs(entities(project.drawn))]
    names = set[str]()
    for layer in project.layers:
        refs += mesh_refs(iter(layer.put))
        values = [change.value for change in layer.changes]
        refs += [value for value in values if isinstance(value, MeshRef)]
        names |= {c.value for c in layer.changes if c.of == "mesh.sha256"}
    return sorted(names | {ref.sha256 for ref in refs})
