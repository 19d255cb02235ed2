"""Switching one fault on in a copy of a car, and putting it right again."""

from PySide6.QtCore import QObject, Signal, Slot

from app.session import Session, State
from core.engine.finding import Finding
from core.history import Step
from core.study.faults import Fault
from core.workshop.report import worsened


class FaultSwitch(QObject):
    """At most one fault is on; it is one step of undo, and putting it right takes that step back.

    What the builder does after switching it on goes with it: the car is again as it was before.
    """

    changed = Signal()

    def __init__(self, session: Session, parent: QObject | None = None) -> None:
        """Begin with no fault on."""
        super().__init__(parent)
        self._session = session
        self._step: Step | None = None
        self._before: State | None = None
        self.on: Fault | None = None
        self.findings: tuple[Finding, ...] = ()
        """What is said more, or worse, than before the fault that is on."""
        self.seen: frozenset[str] = frozenset()
        """Names of the faults that were switched on and told of."""
        session.changed.connect(self._follow)

    def switch_on(self, fault: Fault) -> None:
        """Break the car with a fault, after putting right the one before.

        Raises:
            JigplateError: the car lacks what the fault is about; it is as it was.
        """
        self.put_right()
        self._before = self._session.state
        self._session.apply(f"Fault: {fault.what}", fault.overlay)
        self._step = self._session.history.done[-1]
        self.on = fault
        self._look_again()

    def put_right(self) -> None:
        """Take the fault back, and whatever was done since."""
        while self._step is not None and self._is_there(self._step):
            self._session.undo()
        self._off()

    def forget(self) -> None:
        """No fault is on: another car has come."""
        self._off()

    def _off(self) -> None:
        was_on, self.on = self.on, None
        self._step = self._before = None
        self.findings = ()
        if was_on is not None:
            self.changed.emit()

    def _is_there(self, step: Step) -> bool:
        return any(done is step for done in self._session.history.done)

    @Slot(object, object)
    def _follow(self, _before: object, _after: object) -> None:
        if self._step is None:
            return
        if self._is_there(self._step):
            self._look_again()
        else:
            self._off()

    def _look_again(self) -> None:
        assert self.on is not None
        assert self._before is not None
        told = worsened(self._before.assessment, self._session.state.assessment)
        self.findings = tuple(told)
        if told:
            self.seen |= {self.on.name}
        self.changed.emit()
