"""Where the wheels go: one rigid upright on any linkage, solved through all its travel.

Everything takes and gives numpy arrays in mm, car frame ISO 8855 (x forward, y left, z up), the
body of the car held still. Geometry and positions may both be many: they broadcast against each
other.
"""
