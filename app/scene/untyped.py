"""VTK's objects as values of any type: its stubs leave much of what they take and give unknown."""

# ruff: noqa: ANN401 - see the docstring; whoever uses these says what comes out in its own types

from typing import Any

from vtkmodules.util import numpy_support
from vtkmodules.vtkCommonCore import vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkCommonMath import vtkMatrix4x4
from vtkmodules.vtkRenderingCore import vtkActor, vtkPolyDataMapper

from core.geometry.types import Array

_support: Any = numpy_support


def poly_data() -> Any:
    """A mesh."""
    return vtkPolyData()


def points_of(numbers: Any) -> Any:
    """Places, sharing VTK's own array of numbers."""
    made: Any = vtkPoints()
    made.SetData(numbers)
    return made


def cells_of(offsets: Any, corners: Any) -> Any:
    """Faces or lines, from where each begins among the corners."""
    made: Any = vtkCellArray()
    made.SetData(
        _support.numpy_to_vtkIdTypeArray(offsets, deep=True),
        _support.numpy_to_vtkIdTypeArray(corners, deep=True),
    )
    return made


def handed(numbers: Any) -> Any:
    """A copy of numbers, in VTK's own memory."""
    return _support.numpy_to_vtk(numbers, deep=True)


def view_of(numbers: Any) -> Any:
    """VTK's own memory as an array that can be written to."""
    return _support.vtk_to_numpy(numbers)


def mapper_of(data: Any) -> Any:
    """What turns a mesh into pixels."""
    made: Any = vtkPolyDataMapper()
    made.SetInputData(data)
    return made


def actor_of(mapper: Any) -> Any:
    """A thing in the scene; no picker of VTK's finds it."""
    made: Any = vtkActor()
    made.SetMapper(mapper)
    made.PickableOff()
    return made


def matrix_of(numbers: Array) -> Any:
    """A (4, 4) array as VTK has it."""
    made: Any = vtkMatrix4x4()
    made.DeepCopy([float(number) for number in numbers.ravel()])
    return made
