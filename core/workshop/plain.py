"""A whole assessment as plain data, room by room, for any program to read."""

import json
from collections import Counter
from typing import Any, cast

from core.assess.clearance import closest_at_rest, lift_to_clear
from core.assess.width import (
    axle_width,
    plane_range,
    plunge_limits,
    shaft_at_design,
    shaft_length,
)
from core.checks.accepted import with_acceptances, worst_first
from core.checks.rules import NOT_LOOKED_AT, to_look_at
from core.document.base import Ref, kind_name
from core.document.lookup import Lookup
from core.document.migrations import CURRENT_VERSION
from core.engine.address import Address
from core.engine.assess import Assessment
from core.engine.cells import Cell, CellKey
from core.engine.finding import WORDS, WORST_FIRST, Finding, Remedy
from core.engine.view import FieldKey, FormKey, Key, KindKey, LabelKey, MeshKey, OfKindKey
from core.workshop.figures import figures
from core.workshop.plain_values import Json, NotPlainError, plain

FORMAT = "jigplate assessment"
VERSION = 1

HEADLINES: tuple[Cell[..., Any], ...] = (
    axle_width,
    plane_range,
    shaft_at_design,
    shaft_length,
    plunge_limits,
    closest_at_rest,
    lift_to_clear,
)
"""The cells whose values are given even when not everything is asked for."""

WHOLE_CAR = "car"
ROOM_OF_MODULE = {"frame": "load paths"}
"""The room of a wiring module, where it is not the module's own name."""

AnyCell = Cell[..., Any]


def assessment_as_plain(
    assessment: Assessment, program: str, *, everything: bool = False
) -> dict[str, Json]:
    """A whole assessment, keyed by room.

    Args:
        assessment: what to write; the figures worth knowing must have been asked for.
        program: name and version of the program.
        everything: every cell's value and what it read, not only findings and headline figures.
    """
    document = assessment.document
    return {
        "format": FORMAT,
        "version": VERSION,
        "program": program,
        "project_version": CURRENT_VERSION,
        "car": [{"name": car.name, "statement": car.statement} for car in document.cars],
        "count": _counts(to_look_at(assessment)),
        "worth_knowing": [
            {"what": one.what, "value": one.value, "unit": "mm", "note": one.note}
            for one in assessment.value(figures)
        ],
        "rooms": _rooms(assessment, everything=everything),
        "not_looked_at": list(NOT_LOOKED_AT),
    }


def json_bytes(document: dict[str, Json]) -> bytes:
    """Plain data as JSON in UTF-8; the same data always gives the same bytes."""
    text = json.dumps(document, ensure_ascii=False, allow_nan=False, indent=1)
    return f"{text}\n".encode()


def _counts(findings: list[Finding]) -> dict[str, Json]:
    """Findings by verdict; accepted ones apart."""
    count = Counter(finding.verdict for finding in findings if not finding.accepted)
    by_verdict: dict[str, Json] = {WORDS[verdict]: count[verdict] for verdict in WORST_FIRST}
    return by_verdict | {"accepted": len(findings) - count.total()}


def _rooms(assessment: Assessment, *, everything: bool) -> dict[str, Json]:
    naming = _Naming(assessment)
    names = dict.fromkeys(rule.room for rule in assessment.rules)
    if everything:
        names |= dict.fromkeys(sorted(naming.room(key.cell) for key in assessment.entries))
    return {name: _room(assessment, naming, name, everything=everything) for name in names}


def _room(
    assessment: Assessment, naming: "_Naming", name: str, *, everything: bool
) -> dict[str, Json]:
    findings = [
        finding
        for rule in assessment.rules
        if rule.room == name
        for finding in with_acceptances(assessment.document, assessment.findings_of(rule))
    ]
    keys = sorted(
        (key for key in assessment.entries if naming.room(key.cell) == name),
        key=lambda key: (key.cell.name, naming.subject(key)),
    )
    room: dict[str, Json] = {
        "findings": [_finding(finding, naming.lookup) for finding in worst_first(findings)],
        "figures": _figures(assessment, naming, keys, everything=everything),
    }
    return room | ({"reads": _reads(assessment, naming, keys)} if everything else {})


def _finding(finding: Finding, lookup: Lookup) -> Json:
    subjects: Json = [{"address": str(r), "name": lookup.label(r)} for r in finding.subjects]
    said = plain(finding)
    assert isinstance(said, dict)
    remedies: Json = [_remedy(remedy) for remedy in finding.remedies]
    said = {key: value for key, value in said.items() if key not in ("key", "shortfall")}
    return said | {"word": WORDS[finding.verdict], "subjects": subjects, "remedies": remedies}


def _remedy(remedy: Remedy) -> Json:
    arguments = plain(dict(remedy.arguments))
    return {"edit": remedy.edit, "arguments": arguments, "words": remedy.words}


def _figures(
    assessment: Assessment, naming: "_Naming", keys: list[CellKey], *, everything: bool
) -> Json:
    """The values of cells by their names and what they are about; those of rules are findings."""
    found: dict[str, Json] = {}
    for key in keys:
        if key.cell in naming.rule_rooms or not (everything or key.cell in HEADLINES):
            continue
        try:
            value = plain(assessment.entries[key].value)
        except NotPlainError:
            continue
        of_cell = found.setdefault(key.cell.name, {})
        assert isinstance(of_cell, dict)
        of_cell[naming.subject(key)] = value
    return found


def _reads(assessment: Assessment, naming: "_Naming", keys: list[CellKey]) -> Json:
    """What each cell read, in order."""
    found: dict[str, dict[str, Json]] = {}
    for key in keys:
        reads: Json = [_read(read) for read, _ in assessment.entries[key].reads]
        found.setdefault(key.cell.name, {})[naming.subject(key)] = reads
    return dict(found)


def _read(key: Key) -> str:
    """A read: an address where it is a value, a cell with its arguments, else what was asked."""
    if isinstance(key, FieldKey):
        return str(Address(key.ref, key.path))
    if isinstance(key, CellKey):
        return f"{key.cell.name}({', '.join(_argument(arg) for arg in key.args)})"
    return _asked(key)


def _asked(key: FormKey | LabelKey | KindKey | OfKindKey | MeshKey) -> str:
    if isinstance(key, FormKey):
        return f"whether there is {Address(key.ref, key.path)}"
    if isinstance(key, LabelKey):
        return f"{key.ref}.name"
    if isinstance(key, KindKey):
        return f"every {kind_name(key.kind)}"
    if isinstance(key, OfKindKey):
        return f"whether {key.ref} is a {kind_name(key.kind)}"
    return f"mesh {key.sha256}"


def _argument(value: object) -> str:
    if isinstance(value, tuple):
        items = cast("tuple[object, ...]", value)
        return f"[{', '.join(_argument(item) for item in items)}]"
    return str(value)


class _Naming:
    """Names of things and rooms of cells, for one assessment."""

    def __init__(self, assessment: Assessment) -> None:
        self.lookup = Lookup(assessment.document)
        self.rule_rooms: dict[AnyCell, str] = {r.cell: r.room for r in assessment.rules}
        refs = (Ref(id_, side) for id_ in self.lookup.by_id for side in ("one", "left", "right"))
        self.count = Counter(self.lookup.label(ref) for ref in refs)

    def room(self, cell: AnyCell) -> str:
        """The room of a cell: its rule's, else that of the module it is written in."""
        found = self.rule_rooms.get(cell)
        module = cell.run.__module__.rpartition(".")[2]
        return found or ROOM_OF_MODULE.get(module, module)

    def subject(self, key: CellKey) -> str:
        """What a cell is about, in names; the car where it is about nothing in it."""
        return ", ".join(self.name(arg) for arg in key.args) or WHOLE_CAR

    def name(self, value: object) -> str:
        """The name of a thing, with its address where the name alone would not tell which."""
        if isinstance(value, tuple):
            items = cast("tuple[object, ...]", value)
            return f"[{', '.join(self.name(item) for item in items)}]"
        if not isinstance(value, Ref):
            return str(value)
        label = self.lookup.label(value)
        return f"{label} ({value})" if self.count[label] > 1 else label
