"""Addresses, cells, findings and the incremental assessment; knows nothing of the trade."""
