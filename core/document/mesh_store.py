"""Meshes beside the file, each under the SHA-256 of its bytes; never overwritten."""

import hashlib
import os
import tempfile
from pathlib import Path

from core.document.errors import FileRefusedError


class MeshStore:
    """A folder of meshes that belongs to one project file."""

    def __init__(self, folder: Path) -> None:
        """Use `folder`; it is made when the first mesh is kept."""
        self.folder = folder

    @classmethod
    def beside(cls, project_file: Path) -> "MeshStore":
        """The store that belongs to a project file."""
        return cls(project_file.with_suffix(".meshes"))

    def path(self, sha256: str) -> Path:
        """Where a mesh is, or would be."""
        return self.folder / f"{sha256}.ply"

    def __contains__(self, sha256: str) -> bool:
        """Whether a mesh of that name is there."""
        return self.path(sha256).is_file()

    def add(self, data: bytes) -> str:
        """Keep a mesh and return its SHA-256; one that is there already is left alone."""
        sha256 = hashlib.sha256(data).hexdigest()
        if sha256 not in self:
            self.folder.mkdir(parents=True, exist_ok=True)
            write_atomically(self.path(sha256), data)
        return sha256

    def get(self, sha256: str) -> bytes:
        """The bytes of a mesh.

        Raises:
            FileRefusedError: it is missing, unreadable, or not what its name says.
        """
        try:
            data = self.path(sha256).read_bytes()
        except OSError as error:
            msg = f"the mesh {sha256[:12]}… is not in {self.folder.name}; put that folder back"
            raise FileRefusedError(msg) from error
        if hashlib.sha256(data).hexdigest() != sha256:
            msg = f"the mesh {sha256[:12]}… in {self.folder.name} is damaged; restore that file"
            raise FileRefusedError(msg)
        return data

    def take_from(self, other: "MeshStore", wanted: list[str]) -> None:
        """Keep copies of the wanted meshes of another store; those it lacks are passed over."""
        for sha256 in wanted:
            if sha256 not in self and sha256 in other:
                self.add(other.get(sha256))


def write_atomically(path: Path, data: bytes) -> None:
    """Write a file so that at every moment the old or the new one is there, whole.

    Raises:
        OSError: the folder or the disk refuses; the old file is untouched.
    """
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        Path(name).replace(path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
