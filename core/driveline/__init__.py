"""Drive shafts, the width across the driven wheels, and tyre sizes, on plain values."""
