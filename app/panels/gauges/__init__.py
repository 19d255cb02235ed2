"""The three gauges in the top line."""
