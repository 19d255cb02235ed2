"""The light: a key that stays with the car, two fills, and a weak one at the eye."""

from vtkmodules.vtkRenderingCore import vtkLight, vtkRenderer

_FROM_CAR: tuple[tuple[tuple[float, float, float], float], ...] = (
    ((0.55, 0.60, 1.0), 0.62),  # key: above, left, ahead
    ((-0.8, -0.7, 0.5), 0.22),  # behind, right
    ((0.9, -0.6, 0.3), 0.20),  # ahead, right
)
_AT_THE_EYE = 0.24
_FAR = 10_000.0


def light(renderer: vtkRenderer) -> None:
    """Put the lights into a renderer in place of its own."""
    renderer.RemoveAllLights()
    renderer.AutomaticLightCreationOff()
    for (x, y, z), strength in _FROM_CAR:
        lamp = vtkLight()
        lamp.SetLightTypeToSceneLight()
        lamp.SetPosition(_FAR * x, _FAR * y, _FAR * z)
        lamp.SetFocalPoint(0.0, 0.0, 0.0)
        lamp.SetIntensity(strength)
        renderer.AddLight(lamp)
    head = vtkLight()
    head.SetLightTypeToHeadlight()
    head.SetIntensity(_AT_THE_EYE)
    renderer.AddLight(head)
