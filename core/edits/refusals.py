"""What an edit raises when it will not be done."""

from core.document.errors import JigplateError


class EditRefusedError(JigplateError):
    """The edit would break a rule; the text says which and what to do."""


class HeldError(EditRefusedError):
    """The number is held; the text says by what and how to set it free."""
