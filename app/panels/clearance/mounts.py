"""Mounts: how far each reaches to the tube joint that carries it, and whether the stay fits."""

from PySide6.QtWidgets import QVBoxLayout, QWidget

from app.look.look import Look
from app.look.style import label
from app.panels.clearance.table import Row, RowList
from app.selection import Selection
from app.session import Session, State
from app.widgets.following import Following
from app.widgets.rows import Section, say
from core.document.base import Ref
from core.document.lookup import Lookup
from core.engine.finding import Finding
from core.quantities import number

ENTER = "Enter a mount: its place on the engine and gearbox, and the tube joint that carries it."


class MountsPanel(Following):
    """The reach of every mount, live."""

    def __init__(
        self, session: Session, selection: Selection, look: Look, parent: QWidget | None = None
    ) -> None:
        """Show the mounts of the session's car."""
        super().__init__(session, parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self.section = Section(look, "From mount to tube joint")
        self.words = label(ENTER, "body", "ink2")
        self.rows = RowList(look, selection)
        for part in (self.words, self.rows):
            self.section.body.addWidget(part)
        column.addWidget(self.section)

    def refresh(self, state: State) -> None:
        """Show how things are now."""
        mounts = {mount.id for mount in state.document.mounts}
        lookup = Lookup(state.document)
        rows = [
            _row(lookup, f)
            for f in sorted(state.findings, key=lambda f: [str(r) for r in f.subjects[:1]])
            if f.subjects and f.subjects[0].id in mounts
        ]
        self.words.setVisible(not mounts)
        self.rows.tell(rows)
        limits = {f.limit for f in state.findings
                  if f.rule == "bracket_reach" and f.limit is not None}  # fmt: skip
        remark = f"at most {number(min(limits), 1)}" if len(limits) == 1 else ""
        self.section.say("From mount to tube joint", remark)
        say(self.words, ENTER)


def _row(lookup: Lookup, finding: Finding) -> Row:
    name = lookup.label(finding.subjects[0]).replace("_", " ")
    if finding.rule == "bracket_reach" and finding.measured is not None:
        joint = lookup.label(finding.subjects[1])
        refs: tuple[Ref, ...] = finding.subjects
        return Row(finding.verdict, f"{name} to {joint}", number(finding.measured, 1), refs)
    if finding.rule == "stay_fit" and finding.measured is not None:
        figure = f"off by {number(finding.measured, 2)}"
        return Row(finding.verdict, f"{name}, length", figure, finding.subjects)
    return Row(finding.verdict, finding.sentence, "", finding.subjects)
