"""What a field shows and sets: a value in the car, or one of a thing that is not made yet."""

from typing import Protocol

from app.session import Session
from core.document.base import Entity, Fact
from core.document.facts import fact_at
from core.document.lookup import Lookup
from core.document.paths import NoSuchPathError, value_at
from core.document.project import Document
from core.document.sides import on_side
from core.edits.branches import can_be_freed, put
from core.edits.values import FIXED_STATES, held_by
from core.engine.address import Address
from core.workshop.field_shapes import Shape, shape_at
from core.workshop.kinds import field_words, path_words, unit_at
from core.workshop.plain_address import plain_address


class Binding(Protocol):
    """What a field needs to know of its value."""

    @property
    def shape(self) -> Shape:
        """What may be put there."""
        ...

    @property
    def words(self) -> str:
        """What it is called."""
        ...

    @property
    def unit(self) -> str:
        """The unit of its number; empty without one."""
        ...

    @property
    def is_there(self) -> bool:
        """Whether there is still such a value."""
        ...

    def value(self) -> object:
        """The value now; nothing where it is not known or not given yet."""
        ...

    def keep(self, value: object, *, free: bool = False, group: object = None) -> None:
        """Set it, or refuse with a sentence.

        Raises:
            JigplateError: it is not done, and why.
        """
        ...

    def hold(self) -> str | None:
        """What holds it."""
        ...

    def fact(self) -> Fact | None:
        """Where it comes from."""
        ...


class Drawn:
    """The car as it is drawn now, looked into once for each state of it."""

    def __init__(self, session: Session) -> None:
        """Look into a session's car."""
        self._session = session
        self._lookup = Lookup(session.state.document)
        self._steel_of: Document | None = None
        self._has_fixed = False

    @property
    def lookup(self) -> Lookup:
        """Its things by id."""
        if self._lookup.document is not self._session.state.document:
            self._lookup = Lookup(self._session.state.document)
        return self._lookup

    @property
    def steel(self) -> object:
        """What holds by steel follow from: the whole car once a tube is fixed, else nothing."""
        document = self.lookup.document
        if self._steel_of is not document:
            self._steel_of = document
            self._has_fixed = any(tube.state in FIXED_STATES for tube in document.tubes)
        return document if self._has_fixed else None


class Bound:
    """A value in the car, at an address."""

    def __init__(self, session: Session, address: Address, drawn: Drawn | None = None) -> None:
        """Show and set the value at an address.

        Raises:
            KeyError: there is no such thing.
        """
        self._session = session
        self._drawn = drawn or Drawn(session)
        self.address = address
        thing = self._drawn.lookup.by_id[address.ref.id]
        self.shape = shape_at(type(thing), address.path)
        self.words = field_words(type(thing), address.path).words
        self.help = field_words(type(thing), address.path).help
        self.whole_words = path_words(type(thing), address.path)

    @property
    def lookup(self) -> Lookup:
        """The car as it is now."""
        return self._drawn.lookup

    @property
    def thing(self) -> Entity | None:
        """The thing as it is stored."""
        return self._drawn.lookup.by_id.get(self.address.ref.id)

    @property
    def unit(self) -> str:
        """The unit of its number."""
        return "" if self.thing is None else unit_at(self.thing, self.address.path)

    @property
    def is_there(self) -> bool:
        """Whether there is still such a value."""
        if self.thing is None:
            return False
        try:
            value_at(on_side(self.thing, self.address.ref.side), self.address.path)
        except (NoSuchPathError, ValueError):
            return False
        return True

    def value(self) -> object:
        """The value on its side; nothing where it is not known or not there any more."""
        if self.thing is None:
            return None
        try:
            return value_at(on_side(self.thing, self.address.ref.side), self.address.path)
        except (NoSuchPathError, ValueError):
            return None

    def keep(self, value: object, *, free: bool = False, group: object = None) -> None:
        """Set it in the car, as one step of undo.

        Raises:
            JigplateError: it is held, does not fit, or contradicts something.
        """
        name = self._drawn.lookup.label(self.address.ref)
        address = self.address
        words = f"Change {self.whole_words} of {name}"
        self._session.apply(words, lambda d: put(d, address, value, free=free), group=group)

    def hold(self) -> str | None:
        """What holds it."""
        return held_by(self._drawn.lookup.document, self.address)

    def can_be_freed(self) -> bool:
        """Whether setting it free lets it move."""
        return can_be_freed(self._drawn.lookup.document, self.address)

    def fact(self) -> Fact | None:
        """Where it comes from."""
        if self.thing is None:
            return None
        return fact_at(self.thing, self.address.ref.side, self.address.path)

    def state(self) -> tuple[object, object]:
        """What value, source and holds follow from; the very same objects if none can differ."""
        return (self.thing, self._drawn.steel)

    def said(self) -> str:
        """Its address in words, with the name of its thing."""
        return plain_address(self._drawn.lookup, self.address)


class Draft:
    """A value of something that is not made yet."""

    def __init__(
        self, shape: Shape, words: str, unit: str = "", help_: str = "", value: object = None
    ) -> None:
        """Wait for a value."""
        self.shape = shape
        self.words = words
        self.unit = unit
        self.help = help_
        self._value = value

    @property
    def is_there(self) -> bool:
        """Always."""
        return True

    def value(self) -> object:
        """What was given; nothing as long as nothing was."""
        return self._value

    def keep(self, value: object, *, free: bool = False, group: object = None) -> None:
        """Note what is given."""
        del free, group
        self._value = value

    def hold(self) -> str | None:
        """Nothing holds it."""
        return None

    def fact(self) -> Fact | None:
        """Nothing is said of it yet."""
        return None
