"""The outside of the demo car's engine and gearbox, drawn by hand in the unit's own frame.

Invented like the rest of the car. Every body lies inside one of the unit's six boxes. What the
tight places of the car touch is kept as sharp as the box: the upper edge of the timing cover at
the right-hand end, which the backstay and the rear rail pass.
"""

from collections.abc import Iterator

import numpy as np

from core.geometry.meshes import TriangleMesh, joined
from tests.cars.solids import belt, block, disc, pipe, turned

BORES = (-365.0, -275.0, -185.0, -95.0)
"""Middles of the cylinders along the crank, mm."""


def unit_mesh() -> TriangleMesh:
    """All bodies as one closed mesh."""
    mesh, _ = joined([body for bodies in unit_bodies().values() for body in bodies])
    return mesh


def unit_bodies() -> dict[str, list[TriangleMesh]]:
    """The bodies by the box of the unit in which they lie."""
    return {
        "block_and_sump": [*_block(), *_belt_drive()],
        "head_and_cam_cover": [*_head(), *_cam_cover()],
        "intake": [*_intake()],
        "exhaust_manifold": [*_manifold()],
        "gearbox": [*_bell_housing(), *_gearbox()],
        "final_drive_housing": [*_final_drive()],
    }


def _block() -> Iterator[TriangleMesh]:
    yield block("y", (-105, -60), (115, 160), (-445, 0), corners=14)
    yield block("y", (-130, -72), (140, -48), (-445, 0), corners=5)  # flange of the sump
    yield block("z", (-112, -432), (122, -12), (-170, -70), corners=34, ends=(30, 0))
    yield disc("y", (0, -5), (-14, 0), 128)  # face of the bell housing
    yield turned("x", (-300, -10), [(110, 40, 40), (132, 40, 40), (140, 34, 34)])  # oil filter
    for bore in BORES:
        for low, high in ((-120, -100), (110, 126)):
            yield block("z", (low, bore - 38), (high, bore - 28), (-40, 140), corners=3, steps=1)
            yield block("z", (low, bore + 28), (high, bore + 38), (-40, 140), corners=3, steps=1)
    yield turned("y", (95, 95), [(-438, 34, 34), (-430, 43, 43), (-350, 43, 43), (-335, 30, 30)])


def _belt_drive() -> Iterator[TriangleMesh]:
    pulleys = (((0.0, 0.0), 78.0), ((95.0, 95.0), 32.0), ((-60.0, 90.0), 44.0))
    yield belt(pulleys, (-468, -452), thick=4)
    for middle, radius in pulleys:
        yield turned("y", middle, [(y, half, half) for y, half in _pulley(radius)])


def _pulley(radius: float) -> list[tuple[float, float]]:
    """Places along a pulley and its half widths: nose, flange, groove, flange, shaft."""
    groove, flange = radius - 1, radius + 5
    nose = [(-475.0, 12.0), (-471.0, 14.0), (-471.0, flange), (-469.0, flange)]
    return [*nose, (-469.0, groove), (-451.0, groove), (-451.0, flange), (-448.0, flange),
            (-448.0, 20.0), (-440.0, 20.0)]  # fmt: skip


def _head() -> Iterator[TriangleMesh]:
    yield block("z", (-100, -420), (140, -15), (160, 172), corners=12)
    yield block("z", (-92, -414), (132, -20), (160, 292), corners=16)
    yield block("z", (-96, -418), (136, -16), (288, 306), corners=18)
    for bore in BORES:
        yield disc("x", (bore, 225), (118, 140), 29)
        yield disc("x", (bore, 235), (-100, -84), 26)


def _cam_cover() -> Iterator[TriangleMesh]:
    # The timing cover: flat outer face and sharp outer edge, as the box has it.
    yield block("y", (-100, 160), (140, 445), (-435, -404), corners=(10, 10, 28, 28), ends=(0, 5))
    for low, high in ((-90, 4), (36, 130)):
        yield block("y", (low, 300), (high, 442), (-412, -24), corners=(2, 2, 44, 44), ends=(0, 22))
        for y in (-380, -290, -200, -110, -50):
            yield disc("z", ((low + high) / 2, y), (436, 445), 7, edge=1)
    yield block("y", (0, 300), (40, 424), (-412, -40), corners=(2, 2, 10, 10), ends=(0, 12))
    yield turned("z", (-43, -150), [(430, 30, 30), (440, 30, 30), (445, 25, 25)])  # oil filler
    for bore in BORES:
        yield disc("z", (20, bore), (420, 432), 15)


def _intake() -> Iterator[TriangleMesh]:
    yield block("y", (184, 286), (260, 380), (-420, -66), corners=36, ends=(16, 10))
    yield turned("y", (222, 334), [(-70, 38, 38), (-58, 38, 38), (-56, 31, 31), (-40, 31, 31)])
    yield block("x", (-398, 194), (-62, 256), (140, 150), corners=20)
    for bore in BORES:
        start, end = np.array([141.0, bore, 225.0]), np.array([222.0, bore, 300.0])
        yield pipe(start, np.array([222.0, bore, 225.0]), end, 22)


def _manifold() -> Iterator[TriangleMesh]:
    yield block("x", (-395, 207), (-40, 265), (-112, -100), corners=20)
    yield block("y", (-214, 100), (-150, 164), (-320, -120), corners=28, ends=(20, 20))
    yield turned("x", (-220, 150), [(-220, 42, 42), (-208, 42, 42), (-206, 31, 31), (-180, 31, 31)])
    for bore in BORES:
        start = np.array([-104.0, bore, 235.0])
        end = np.array([-182.0, -220.0 + 0.45 * (bore + 230.0), 140.0])
        yield pipe(start, np.array([-192.0, bore, 232.0]), end, 20)


def _bell_housing() -> Iterator[TriangleMesh]:
    rings = [(0, 120, 135), (13, 120, 135), (15, 113, 127), (60, 110, 122), (128, 82, 96)]
    yield turned("y", (0, -5), rings, around=28)
    for x in (-60, -20, 20, 60):
        yield block("y", (x - 4, 60), (x + 4, 104), (12, 126), corners=2, steps=1)
        yield block("y", (x - 4, -112), (x + 4, -70), (12, 126), corners=2, steps=1)


def _gearbox() -> Iterator[TriangleMesh]:
    yield block("y", (-92, -100), (90, 88), (118, 232), corners=34, ends=(6, 0))
    yield block("y", (-96, -104), (94, 92), (228, 242), corners=36)  # joint of the two cases
    yield block("y", (-86, -94), (84, 82), (238, 338), corners=34)
    yield block("y", (-78, -86), (76, 74), (330, 370), corners=30, ends=(0, 20))
    for z in (-50, -10, 30):
        yield block("y", (86, z - 4), (100, z + 4), (130, 330), corners=2, steps=1)
    yield turned("z", (30, 180), [(70, 34, 34), (112, 34, 34), (114, 22, 22), (130, 20, 20)])
    yield block("z", (-22, 150), (60, 210), (84, 98), corners=14)


def _final_drive() -> Iterator[TriangleMesh]:
    rings = [(0, 90, 86), (14, 108, 103), (22, 115, 110), (76, 115, 110), (84, 104, 99)]
    rings += [(108, 64, 64), (110, 52, 52), (116, 52, 52), (118, 46, 46), (130, 46, 46)]
    yield turned("y", (-190, -20), rings, around=28)
    yield block("y", (-150, -84), (-75, 44), (4, 118), corners=24, ends=(6, 10))
    for turn in range(8):
        angle = turn * np.pi / 4 + np.pi / 8
        centre = (-190 + 99 * float(np.cos(angle)), -20 + 99 * float(np.sin(angle)))
        yield disc("y", centre, (70, 90), 8, edge=1)
