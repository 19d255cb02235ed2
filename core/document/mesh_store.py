"""Meshes beside the file, each under the SHA-256 of its bytes; never overwritten."""

import hashlib
from collections.abc import Iterable
from pathlib import Path

from core.document.atomic import write_atomically
from core.document.errors import FileRefusedError

__all__ = ["MeshStore", "write_atomically"]


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
        """Keep a mesh and return its SHA-256; one that is there already and whole is left alone.

        Raises:
            OSError: the folder or the disk refuses.
        """
        sha256 = hashlib.sha256(data).hexdigest()
        if not self._is_whole(sha256):
            self.folder.mkdir(parents=True, exist_ok=True)
            write_atomically(self.path(sha256), data)
        return sha256

    def _is_whole(self, sha256: str) -> bool:
        try:
            self.get(sha256)
        except FileRefusedError:
            return False
        return True

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

    def take_from(self, other: "MeshStore", wanted: Iterable[str]) -> tuple[str, ...]:
        """Keep copies of the wanted meshes of another store, and return those it has not whole.

        Raises:
            OSError: the folder or the disk refuses.
        """
        absent: list[str] = []
        for sha256 in wanted:
            if self._is_whole(sha256):
                continue
            try:
                data = other.get(sha256)
            except FileRefusedError:
                absent.append(sha256)
            else:
                self.add(data)
        return tuple(absent)
