"""Things: every kind as a table, and forms to make new ones."""

from app.panels.things.actions import ActionSpec, make_action_specs
from app.panels.things.panel import Things

__all__ = ["ActionSpec", "Things", "make_action_specs"]
