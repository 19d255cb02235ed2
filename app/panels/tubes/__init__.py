"""Tube tools: drawing, bending, parting and joining tubes; joints, brackets and mounts."""

from app.panels.tubes.actions import tube_action_specs
from app.panels.tubes.panel import TubeTools

__all__ = ["TubeTools", "tube_action_specs"]
