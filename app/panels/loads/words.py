"""Forces of a corner in words and tables, to three figures, and all of them as CSV."""

import csv
from collections.abc import Iterator
from io import StringIO
from math import floor, log10

from app.widgets.figure_table import Table
from core.assess.load_extremes import Greatest
from core.assess.load_report import LoadReport
from core.assess.loads import CornerLoads
from core.assess.wheel_forces import Name
from core.document.base import Ref, Vec3
from core.document.lookup import Lookup
from core.quantities import number

FIGURES = 3
LEAST = 0.5
"""N, below which a force is none: no figure here is surer."""

CAUTION = (
    "By balance alone, links as drawn, stiff and at rest. It says nothing of whether a tube, a "
    "weld, a bracket or a joint is strong enough: shocks, wear and fatigue come on top. Have that "
    "judged by someone trained to do it."
)


def newtons(value: float) -> str:
    """A force to three figures and to the whole N."""
    if abs(value) < LEAST:
        return "0"
    digits = FIGURES - 1 - floor(log10(abs(value)))
    return number(round(value, min(digits, 0)), 0)


def pulled(value: float) -> str:
    """What pulls or pushes along a link."""
    if abs(value) < LEAST:
        return "0"
    return f"{newtons(abs(value))} {'pull' if value > 0.0 else 'push'}"


def load_words(report: LoadReport, name: Name) -> str:
    """A load, as it is chosen."""
    return report.loads[name].on_wheel.words


def short(lookup: Lookup, name: Name) -> str:
    """A load in one word."""
    return lookup.label(name) if isinstance(name, Ref) else name


def at_wheel_words(loads: CornerLoads) -> str:
    """What the road puts on the wheel, and where its figures come from."""
    ahead, left, up = (float(value) for value in loads.on_wheel.contact)
    parts = [f"{newtons(up)} N up"]
    if abs(ahead) >= LEAST:
        parts.append(f"{newtons(abs(ahead))} {'ahead' if ahead > 0.0 else 'back'}")
    if abs(left) >= LEAST:
        parts.append(f"{newtons(abs(left))} to the {'left' if left > 0.0 else 'right'}")
    words = f"The road pushes the tyre with {', '.join(parts)}."
    if loads.on_wheel.is_pulled:
        words += " The shaft turns the wheel, so no link holds it from turning."
    return words


def source_words(loads: CornerLoads) -> str:
    """Where the figures of a load come from."""
    how = f" Taken: {loads.on_wheel.how}." if loads.on_wheel.how else ""
    return f"Source: {loads.on_wheel.source}.{how}"


def link_table(loads: CornerLoads) -> Table:
    """Links, legs, rods and dampers in one load."""
    bends = any(leg.bend >= LEAST for leg in loads.legs)
    rows = [
        (leg.name, pulled(leg.pull), *([newtons(leg.bend)] if bends else [])) for leg in loads.legs
    ]
    if loads.bar_nm is not None:
        twist = f"{newtons(abs(loads.bar_nm))} N m"
        rows.append(("torsion bar", twist, *(["0"] if bends else [])))
    return Table(("", "along, N", *(["across, N"] if bends else [])), tuple(rows), strong=1)


def greatest_table(lookup: Lookup, report: LoadReport) -> Table:
    """The most that each link is pulled and pushed, and in which load."""
    rows = tuple(
        (leg.name, *_most(lookup, leg.pull), *_most(lookup, leg.push)) for leg in report.most.legs
    )
    return Table(("", "pull, N", "in", "push, N", "in"), rows)


def _most(lookup: Lookup, most: Greatest | None) -> tuple[str, str]:
    if most is None or most.value < LEAST:
        return "none", ""
    return newtons(most.value), short(lookup, most.load)


def chassis_table(lookup: Lookup, loads: CornerLoads) -> Table:
    """Forces on the chassis in one load."""
    rows = tuple(
        (lookup.label(each.at), *(newtons(value) for value in (*each.force, each.size)))
        for each in loads.on_chassis
    )
    return Table(("", "ahead", "left", "up", "all, N"), rows, strong=4)


def seats_table(lookup: Lookup, report: LoadReport) -> Table:
    """The most on each pick-up, and what of it the tubes there take along themselves."""
    rows = tuple(
        (
            lookup.label(at),
            newtons(most.value),
            short(lookup, most.load),
            _share(report, at, most),
            _reach(report, at),
        )
        for at, most in report.most.on_chassis
    )
    return Table(("", "most, N", "in", "along", "reach"), rows, strong=1)


def _force(report: LoadReport, at: Ref, load: Name) -> Vec3:
    return next(each.force for each in report.loads[load].on_chassis if each.at == at)


def _share(report: LoadReport, at: Ref, most: Greatest) -> str:
    tubes = report.tubes[at]
    if isinstance(tubes, str):
        return "?"
    share = 100.0 * tubes.taken_along(_force(report, at, most.load))
    return f"{floor(share + 1e-6)} %"  # what is not all is not called all


def _reach(report: LoadReport, at: Ref) -> str:
    tubes = report.tubes[at]
    return "?" if isinstance(tubes, str) else number(tubes.reach, 0)


def tubes_words(report: LoadReport) -> str:
    """What the share of the tubes means, and where it is not known."""
    words = (
        "Along: what of that force the tubes at the joint take by push and pull alone; the rest "
        "bends them. Reach: how far, in mm, the bracket holds it off the joint, which turns it too."
    )
    why = dict.fromkeys(tubes for tubes in report.tubes.values() if isinstance(tubes, str))
    return " ".join([words, *(f"Don't know, because {each}." for each in why)])


def unknown_words(lookup: Lookup, report: LoadReport) -> str:
    """Loads that are not known, those of one reason together; empty if all are."""
    by_reason: dict[str, list[str]] = {}
    for name, why in report.unknown:
        by_reason.setdefault(why, []).append(short(lookup, name))
    return " ".join(
        f"Don't know {' and '.join(names)}, because {why}." for why, names in by_reason.items()
    )


def summary_words(lookup: Lookup, report: LoadReport) -> str:
    """The greatest force on the chassis, for the one line."""
    at, most = max(report.most.on_chassis, key=lambda each: each[1].value)
    return f"{newtons(most.value)} N at most, {short(lookup, most.load)}, on {lookup.label(at)}"


def as_csv(lookup: Lookup, report: LoadReport) -> str:
    """Every force in every load that is known."""
    out = StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(
        ("load", "what", "of", "pull_N", "across_N", "ahead_N", "left_N", "up_N", "source")
    )
    for name, loads in report.loads.items():
        writer.writerows(_lines(lookup, short(lookup, name), loads))
    for name, why in report.unknown:
        writer.writerow((short(lookup, name), "not known", why, "", "", "", "", "", ""))
    return out.getvalue()


def _lines(lookup: Lookup, name: str, loads: CornerLoads) -> Iterator[tuple[str, ...]]:
    source = loads.on_wheel.source
    contact = (f"{float(value):.1f}" for value in loads.on_wheel.contact)
    yield (name, "on the tyre", "contact", "", "", *contact, source)
    for leg in loads.legs:
        yield (name, "along", leg.name, f"{leg.pull:.1f}", f"{leg.bend:.1f}", "", "", "", source)
    for what, forces in (("on the chassis", loads.on_chassis), ("on the upright", loads.at_balls)):
        for each in forces:
            xyz = (f"{value:.1f}" for value in each.force)
            yield (name, what, lookup.label(each.at), "", "", *xyz, source)
