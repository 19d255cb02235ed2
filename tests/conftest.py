"""What holds for every test."""

import gc

SELDOM = (50_000, 20, 50)
"""Thresholds of the collector: what the tests share is large, and looking through it is dear."""


def pytest_collection_finish() -> None:
    """Leave what was imported and collected out of every later collection."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(*SELDOM)
