"""The engine and gearbox on its mounts: how it moves, what its mounts feel, how it shakes."""
