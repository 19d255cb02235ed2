"""The car in 3D: records become actors, gestures become edits; the only place that draws it."""
