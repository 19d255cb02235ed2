"""Plain geometry in the car frame: frames, bent tubes, distances.

Everything here takes and gives numpy arrays and values in mm, car frame ISO 8855
(x forward, y left, z up); nothing knows of a document, a window or a file.
"""
