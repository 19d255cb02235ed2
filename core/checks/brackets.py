"""Rules on brackets: reach, what they stand on, what nothing carries, sheets that are missing."""

from collections.abc import Iterator

from core.assess.frame import (
    Standing,
    carried_by,
    footing,
    points_on_tubes,
    standing,
    to_be_carried,
)
from core.assess.limits import limit
from core.assess.places import array, mount_place, place, unit_end
from core.document.base import Ref, Vec3
from core.document.power import Mount
from core.document.steel import Bay, Bracket, Panel
from core.engine.cells import Findings, NotComputedError, Reader, Rule, When, cell
from core.engine.finding import Finding, Remedy, Verdict
from core.frame.brackets import Footing
from core.quantities import number


@cell(When.LIVE)
def reach(read: Reader) -> Findings:
    """How far each bracket reaches from its tube joint."""
    found = (read(reach_of, ref) for ref in read.all(Bracket))
    return tuple(finding for finding in found if finding is not None)


@cell(When.LIVE)
def reach_of(read: Reader, ref: Ref) -> Finding | None:
    """The same of one bracket; a cell of its own, so that a drag asks again only what moved."""
    try:
        stands = read(standing, ref)
    except NotComputedError as error:
        return Finding("bracket_reach", "unknown", (ref,), f"{read.label(ref)}: {error}.")
    if stands.reach is None:
        return None
    held = read(limit, "bracket_reach", stands.carries, stands.on, ref)
    verdict = held.verdict_at_most(stands.reach)
    carried, on = read.label(stands.carries), read.label(stands.on)
    words = f"{carried} is {number(stands.reach, 1)} from {on}"
    words += {
        "no": f"; a bracket of that length bends: bring them within {number(held.value, 1)}.",
        "tight": f", near the {number(held.value, 1)} a bracket may reach.",
        "fine": ".",
        "unknown": ".",
    }[verdict]
    return Finding(
        "bracket_reach",
        verdict,
        (stands.carries, stands.on, ref),
        words,
        measured=stands.reach,
        limit=held.value,
        higher_is_worse=True,
        place=stands.carried_at,
        limit_source=held.source,
    )


@cell(When.LIVE)
def footings(read: Reader) -> Findings:
    """Brackets that stand on another bracket, or away from every tube joint."""
    return tuple(found for ref in read.all(Bracket) for found in read(footing_findings, ref))


@cell(When.LIVE)
def footing_findings(read: Reader, ref: Ref) -> Findings:
    """The same of one bracket; a cell of its own, so that a drag asks again only what moved."""
    try:
        return tuple(_footing(read, ref, read(standing, ref), read(footing, ref)))
    except NotComputedError as error:
        return (Finding("off_joint", "unknown", (ref,), f"{read.label(ref)}: {error}."),)


def _footing(read: Reader, ref: Ref, stands: Standing, found: Footing | None) -> Iterator[Finding]:
    carried, on = read.label(stands.carries), read.label(stands.on)
    if read.has(Bracket, stands.on) and not read.thing(Bracket, stands.on).bought:
        words = f"The bracket of {carried} stands on another bracket, {on}: carry it from a tube."
        yield Finding("stacked_bracket", "no", (ref, stands.on), words, place=stands.carried_at)
    elif read.has(Mount, stands.on):
        words = f"The bracket of {carried} stands on the mount {on}: carry it from a tube joint."
        yield Finding("off_joint", "no", (ref, stands.on), words, place=stands.carried_at)
    elif found == "nothing":
        words = f"The bracket of {carried} stands on {on}, where no tube is."
        yield Finding("off_joint", "no", (ref, stands.on), words, place=stands.carried_at)
    elif found == "one tube" and not _is_mark(read, stands):
        words = (
            f"The bracket of {carried} stands on {on} with one tube only: it bends that tube. "
            "Move it to a joint of two or more."
        )
        yield Finding("off_joint", "no", (ref, stands.on), words, place=stands.carried_at)


def _is_mark(read: Reader, stands: Standing) -> bool:
    """A bare mark on a tube: the rule on tees tells of what stands there."""
    return any(point == stands.on for point, _ in read(points_on_tubes))


@cell(When.LIVE)
def carried(read: Reader) -> Findings:
    """Pick-ups, mounts and rack feet that nothing carries."""
    by = dict(read(carried_by))
    found: list[Finding] = []
    for ref in read(to_be_carried):
        if ref not in by:
            words = f"Nothing says what carries {read.label(ref)}: give it a bracket on a joint."
            found.append(Finding("not_carried", "unknown", (ref,), words, place=_place(read, ref)))
    return tuple(found)


def _place(read: Reader, ref: Ref) -> Vec3 | None:
    try:
        return read(place, ref)
    except NotComputedError:
        return None


@cell(When.LIVE)
def stays(read: Reader) -> Findings:
    """Whether each stay is as long as its two ends are apart."""
    found = (_stay(read, ref) for ref in read.all(Mount))
    return tuple(finding for finding in found if finding is not None)


def _stay(read: Reader, ref: Ref) -> Finding | None:
    mount = read.thing(Mount, ref)
    if mount.form != "stay":
        return None
    if mount.stay_length is None:
        words = f"How long {read.label(ref)} is as bought is not known, nor whether it fits."
        return Finding("stay_fit", "unknown", (ref,), words, place=mount_place(read, ref))
    ends = array(mount_place(read, ref)) - array(unit_end(read, ref))
    apart = float((ends @ ends) ** 0.5)
    off = abs(apart - mount.stay_length)
    held = read(limit, "stay_fit", ref)
    verdict: Verdict = "fine" if off <= held.value else "no"
    words = (
        f"{read.label(ref)} is {number(mount.stay_length, 1)} long; its two ends are "
        f"{number(apart, 1)} apart."
    )
    return Finding(
        "stay_fit",
        verdict,
        (ref,),
        words,
        measured=off,
        limit=held.value,
        higher_is_worse=True,
        place=mount_place(read, ref),
        limit_source=held.source,
    )


@cell(When.LIVE)
def bays(read: Reader) -> Findings:
    """Bays between tubes that neither a diagonal nor a sheet closes."""
    sheets = [set(read.thing(Panel, ref).outline) for ref in read.all(Panel)]
    found: list[Finding] = []
    for ref in read.all(Bay):
        bay = read.thing(Bay, ref)
        if set(bay.outline) in sheets:
            continue
        corners = ", ".join(read.label(joint) for joint in bay.outline)
        words = (
            f"No sheet closes the bay {corners}, which is said to have one."
            if bay.closed_by == "sheet"
            else f"The bay {corners} is open: close it with a diagonal or a sheet."
        )
        mend = Remedy("make_panel", (("outline", bay.outline),), "put a sheet there")
        found.append(Finding("open_bay", "no", (ref,), words, remedies=(mend,)))
    return tuple(found)


ROOM = "load paths"
RULES = (
    Rule("bracket_reach", "Is every bracket short?", reach, ROOM),
    Rule("off_joint", "Does every bracket stand on a tube joint?", footings, ROOM),
    Rule("not_carried", "Is everything carried by the frame?", carried, ROOM),
    Rule("stay_fit", "Does every stay fit its two ends?", stays, ROOM),
    Rule("open_bay", "Is every bay closed as it is said to be?", bays, ROOM),
)
