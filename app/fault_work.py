"""Faults tried one after another away from the window, to tell which are seen and by what."""

from collections.abc import Mapping
from typing import NamedTuple

from app.worker import Progress
from core.checks.rules import assess_all
from core.document.errors import JigplateError
from core.document.project import Document
from core.engine.assess import Assessment
from core.study.faults import FAULTS, Fault
from core.workshop.report import worsened


class Request(NamedTuple):
    """The car to break, with its meshes."""

    document: Document
    meshes: Mapping[str, bytes]


class Tried(NamedTuple):
    """What came of a fault.

    Attributes:
        name: which fault.
        told: rules that say more than before.
        missing: rules that should have and did not.
        why: why it could not be tried; empty if it was.
    """

    name: str
    told: tuple[str, ...]
    missing: tuple[str, ...]
    why: str = ""


def offered() -> tuple[Fault, ...]:
    """The faults that some rule can see."""
    return tuple(fault for fault in FAULTS if fault.seen_by)


def not_offered() -> tuple[Fault, ...]:
    """The faults that no rule can see yet, each with its reason."""
    return tuple(fault for fault in FAULTS if not fault.seen_by)


def try_faults(request: Request, progress: Progress) -> tuple[Tried, ...]:
    """What the rules say of each fault on offer; `progress` is told each as it is tried."""
    sound = assess_all(request.document, request.meshes)
    tried: list[Tried] = []
    for fault in offered():
        tried.append(_try(fault, request, sound))
        progress(tuple(tried))
    return tuple(tried)


def _try(fault: Fault, request: Request, sound: Assessment) -> Tried:
    try:
        broken = fault.overlay(request.document)
    except JigplateError as error:
        return Tried(fault.name, (), fault.seen_by, str(error))
    after = assess_all(broken, request.meshes, sound)
    told = {finding.rule for finding in worsened(sound, after)}
    missing = tuple(rule for rule in fault.seen_by if rule not in told)
    return Tried(fault.name, tuple(sorted(told)), missing)
