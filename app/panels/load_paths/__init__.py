"""Load paths by geometry: counts, places, repairs."""
