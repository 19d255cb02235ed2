"""This car's own limits in place of the program's, and back again."""

import math
from typing import Any

import msgspec

from core.assess.limits import DEFAULTS
from core.document.base import Ref
from core.document.layers import replace_thing, without_things
from core.document.lookup import Lookup
from core.document.project import Document
from core.document.records import Limit
from core.edits.holds import kept
from core.edits.names import free_name
from core.edits.refusals import EditRefusedError
from core.edits.things import make


def set_limit(
    document: Document, rule: str, value: float, source: str, only_for: Ref | None = None
) -> Document:
    """The document with a limit of its own for a rule, in the unit of the program's.

    Args:
        document: where it is.
        rule: the key of the limit, such as `unit_gap`.
        value: the figure that things are held against.
        source: where the figure comes from.
        only_for: the one thing it counts for; without it, all.

    Raises:
        EditRefusedError: there is no such limit, or the figure or its source is missing.
        HeldError: the limit is held.
    """
    if rule not in DEFAULTS:
        msg = f"there is no limit «{rule}»; there are {', '.join(sorted(DEFAULTS))}"
        raise EditRefusedError(msg)
    if not math.isfinite(value) or not source.strip():
        msg = "a limit needs a figure, and where it comes from"
        raise EditRefusedError(msg)
    values: dict[str, Any] = {
        "value": float(value),
        "unit": DEFAULTS[rule].unit,
        "source": source.strip(),
    }
    old = _own(document, rule, only_for)
    if old is None:
        name = _name(document, rule, only_for)
        return make(document, Limit, name, rule=rule, only_for=only_for, **values)[0]
    changed = msgspec.structs.replace(old, **values)
    return document if changed == old else kept(document, replace_thing(document, changed))


def _own(document: Document, rule: str, only_for: Ref | None) -> Limit | None:
    found = (li for li in document.limits if (li.rule, li.only_for) == (rule, only_for))
    return next(found, None)


def _name(document: Document, rule: str, only_for: Ref | None) -> str:
    about = f" of {Lookup(document).label(only_for)}" if only_for else ""
    return free_name((li.name for li in document.limits), f"{rule.replace('_', ' ')}{about}")


def reset_limit(document: Document, rule: str, only_for: Ref | None = None) -> Document:
    """The document with the program's own limit for a rule again.

    Raises:
        EditRefusedError: the car has no limit of its own there, or something names it.
    """
    old = _own(document, rule, only_for)
    if old is None:
        msg = f"this car has no limit of its own for «{rule}», so there is none to take back"
        raise EditRefusedError(msg)
    return kept(document, without_things(document, frozenset((old.id,))))
