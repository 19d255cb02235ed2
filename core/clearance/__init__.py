"""Clearance of a body to tubes: gaps at rest, along a straight way out, and the lift for one.

A tube is its centre line thickened by its outside radius, so a gap is the distance of the skin
of the body to the centre line, less the radius. Plain arrays and values in mm, car frame.
"""
