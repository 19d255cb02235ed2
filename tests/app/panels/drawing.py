"""The least car with a tube in it, made by the edits alone."""

from app.session import Session
from core.document.base import Ref, Vec3
from core.document.project import Document
from core.document.steel import Die, Material, Point, Section
from core.edits.things import make
from core.edits.tubes import draw_tube


def one_tube(session: Session) -> None:
    """Draw a straight tube between two joints in an empty car."""
    session.apply("Draw T1", _draw)


def _draw(document: Document) -> Document:
    document, steel = make(document, Material, "mild steel", density_kg_m3=7850.0)
    document, die = make(document, Die, "die 90", radius=90.0)
    document, section = make(
        document,
        Section,
        "32x2",
        outside=32.0,
        wall=2.0,
        material=Ref(steel.id),
        die=Ref(die.id),
    )
    document, a = make(document, Point, "A", at=Vec3(0.0, 0.0, 100.0))
    document, b = make(document, Point, "B", at=Vec3(-600.0, 0.0, 100.0))
    return draw_tube(document, "T1", Ref(section.id), Ref(a.id), Ref(b.id))[0]
