"""The converter, doing again only what a change of the neutral file can alter.

Each part of the converter is run once on the file as it is, and the sections of the file that it
reads are noted. For a file with other sections, it is run again only if it reads one of them.
"""

import inspect
from collections.abc import Callable, Generator, Iterator
from contextlib import contextmanager
from types import FunctionType
from typing import Any

import pytest

from tests.cars import convert
from tests.cars.convert_names import names_of
from tests.cars.neutral import Plain
from tests.cars.pairs import Names


class Watched(dict[str, Any]):
    """A neutral file that notes which of its sections are read; all, if they are gone through."""

    def __init__(self, car: Plain) -> None:
        super().__init__(car)
        self.read: set[str] = set()

    def __getitem__(self, key: str) -> Any:  # noqa: ANN401 - JSON
        self.read.add(key)
        return super().__getitem__(key)

    def __contains__(self, key: object) -> bool:
        self.read.add(str(key))
        return super().__contains__(key)

    def __iter__(self) -> Iterator[str]:
        self.read |= set(super().keys())
        return super().__iter__()

    def get(self, key: str, default: Any = None) -> Any:  # noqa: ANN401 - JSON
        self.read.add(key)
        return super().get(key, default)

    def keys(self) -> Any:  # noqa: ANN401 - a view
        self.read |= set(super().keys())
        return super().keys()

    def values(self) -> Any:  # noqa: ANN401 - a view
        self.read |= set(super().keys())
        return super().values()

    def items(self) -> Any:  # noqa: ANN401 - a view
        self.read |= set(super().keys())
        return super().items()


@contextmanager
def remembering(car: Plain) -> Generator[None]:
    """While it lasts, `convert.project_of` is quick for files made by changing `car`."""
    names = names_of(car)

    def names_again(other: Plain) -> Names:
        made = names_of(other)
        return names if made.catalogue == names.catalogue else made

    with pytest.MonkeyPatch.context() as patch:
        for name, part in vars(convert).copy().items():
            if _is_part(part):
                patch.setattr(convert, name, _remembered(part, car, names))
        patch.setattr(convert, "names_of", names_again)
        yield


def _is_part(part: object) -> bool:
    """Whether it makes or checks something from the file, or from the file and its names."""
    if not isinstance(part, FunctionType) or part.__module__ == convert.__name__:
        return False
    return list(inspect.signature(part).parameters) in (["car"], ["car", "names"])


def _remembered(part: Callable[..., Any], car: Plain, names: Names) -> Callable[..., Any]:
    watched = Watched(car)
    takes_names = "names" in inspect.signature(part).parameters
    result = part(watched, names) if takes_names else part(watched)
    if inspect.isgeneratorfunction(part):
        result = tuple(result)

    def again(other: Plain, *other_names: Names) -> Any:  # noqa: ANN401 - of the part
        is_same = all(other.get(key) is car.get(key) for key in watched.read)
        if is_same and all(each is names for each in other_names):
            return result
        return part(other, *other_names)

    return again
