"""Every value of the source files is carried into the projects, checked, or listed as dropped."""

import json

import pytest

from core.document.project import Project
from core.geometry.tubes import NoTubeShape
from tests.cars import convert
from tests.cars.convert import DEMO, SECOND, project_of
from tests.cars.dropped import DROPPED, NOT_CONVERTED, why_dropped
from tests.cars.leaves import changed, leaves, representatives
from tests.cars.neutral import HERE, Plain, fits, read_neutral
from tests.cars.remembering import remembering

REFUSED = (ValueError, KeyError, NoTubeShape)
"""How the converter or the document refuses a file that contradicts itself."""

CARS = {"demo": DEMO, "second": SECOND}


@pytest.fixture(scope="module", params=list(CARS))
def car(request: pytest.FixtureRequest) -> Plain:
    return read_neutral(CARS[request.param])


@pytest.fixture(scope="module")
def project(car: Plain) -> Project:
    return project_of(car)


@pytest.fixture(scope="module")
def demo() -> Plain:
    return read_neutral(DEMO)


def test_every_value_of_the_source_is_carried_checked_or_listed_as_dropped(
    car: Plain, project: Project
) -> None:
    """Another value gives another project or is refused; one that does neither must be listed."""
    with remembering(car):
        unlike = [
            path
            for path in representatives(car)
            if (_made(changed(car, path)) != project) is (why_dropped(car, path) is not None)
        ]
    assert unlike == []


def _made(other: Plain) -> Project | None:
    """The project of a file; none where it is refused."""
    try:
        return convert.project_of(other)
    except REFUSED:
        return None


def test_what_is_remembered_of_the_conversion_is_what_it_would_give_again(car: Plain) -> None:
    """A value in some forty, in every section of the file."""
    paths = representatives(car)
    some = {path.partition("/")[0]: path for path in paths}.values()
    tried = [changed(car, path) for path in dict.fromkeys([*paths[::40], *some])]
    with remembering(car):
        quick = [_made(other) for other in tried]
    assert quick == [_made(other) for other in tried]
    assert None in quick
    assert len([one for one in quick if one is not None]) > len(tried) // 3


def test_every_entry_of_the_table_of_what_is_dropped_is_in_a_source() -> None:
    sources = [read_neutral(path) for path in CARS.values()]
    found = [path for source in sources for path in leaves(source)]
    assert not [
        pattern for pattern in DROPPED if not any(fits(pattern, path, "/") for path in found)
    ]
    assert set(NOT_CONVERTED) <= {key for source in sources for key in source}


def test_the_table_of_faults_is_that_of_the_source(demo: Plain) -> None:
    faults = json.loads((HERE / "faults.json").read_text(encoding="utf-8"))
    seeded = [{k: v for k, v in fault.items() if k != "patch"} for fault in demo["seeded_faults"]]
    assert faults == seeded
    assert len(faults) == 18
