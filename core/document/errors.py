"""Failures that are expected: told in one sentence with what to do."""


class JigplateError(Exception):
    """An expected failure; its text is a sentence for the builder."""


class FileRefusedError(JigplateError):
    """A file that cannot be read as what it should be."""
