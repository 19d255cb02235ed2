"""The single values of a neutral file, and the file with one of them changed."""

import copy
from collections import defaultdict
from collections.abc import Iterator
from typing import Any

from tests.cars.dropped import NOT_CONVERTED
from tests.cars.neutral import Plain


def leaves(car: Plain) -> Iterator[str]:
    """The path of every single value about the car, with a stroke between its steps."""
    for key, value in car.items():
        if key not in NOT_CONVERTED:
            yield from _below(value, key)


def _below(value: Any, path: str) -> Iterator[str]:  # noqa: ANN401 - JSON
    if isinstance(value, dict):
        for key in value:  # pyright: ignore[reportUnknownVariableType]
            yield from _below(value[key], f"{path}/{key}")
    elif isinstance(value, list):
        for count, item in enumerate(value):  # pyright: ignore[reportUnknownVariableType, reportUnknownArgumentType]
            yield from _below(item, f"{path}/{count}")
    else:
        yield path


def representatives(car: Plain) -> list[str]:
    """Leaves of every form: of those alike but for list numbers the first and the last."""
    alike: dict[str, list[str]] = defaultdict(list)
    for path in leaves(car):
        alike[_form(path)].append(path)
    return [path for paths in alike.values() for path in dict.fromkeys((paths[0], paths[-1]))]


def _form(path: str) -> str:
    steps = path.split("/")
    if steps[:2] == ["frame", "nodes"]:
        steps[2] = "#"
    return "/".join("#" if step.isdigit() else step for step in steps)


def changed(car: Plain, path: str) -> Plain:
    """The file with one value made another of its kind; the file itself is left as it is."""
    steps = path.split("/")
    result = dict(car)
    result[steps[0]] = copy.deepcopy(car[steps[0]])
    holder: Any = result
    for step in steps[:-1]:
        holder = holder[int(step) if isinstance(holder, list) else step]
    if isinstance(holder, list):
        holder[int(steps[-1])] = _other(holder[int(steps[-1])])
    else:
        holder[steps[-1]] = _other(holder[steps[-1]])
    return result


def _other(value: Any) -> Any:  # noqa: ANN401 - JSON
    if isinstance(value, bool):
        return not value
    if isinstance(value, int | float):
        return value + 1
    return f"{value} changed" if isinstance(value, str) else 7.0
