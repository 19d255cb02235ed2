"""How fields for words look: no box, one hairline below, a frame when the keyboard is on them."""

from app.look.look import Look
from app.look.tokens import ColourName

_NEEDED: tuple[ColourName, ...] = ("rule", "edge", "no", "card", "sel")

_LINE = """
QLineEdit {{ background: transparent; border: none; border-bottom: 1px solid {rule};
  padding: 3px 2px; }}
QLineEdit:hover {{ border-bottom: 1px solid {edge}; }}
QLineEdit[wrong="true"] {{ border-bottom: 2px solid {no}; }}
QLineEdit:focus {{ background: {card}; border: 2px solid {sel}; padding: 1px 0 1px 0; }}
QLineEdit[wrong="true"]:focus {{ border: 2px solid {no}; }}
"""
_PAGE = """
QPlainTextEdit {{ background: transparent; border: 1px solid {rule}; padding: 2px; }}
QPlainTextEdit:focus {{ background: {card}; border: 2px solid {sel}; padding: 1px; }}
"""
_BOX = """
QComboBox {{ background: transparent; border: none; border-bottom: 1px solid {rule};
  padding: 3px 18px 3px 2px; }}
QComboBox:hover {{ border-bottom: 1px solid {edge}; }}
QComboBox:focus {{ background: {card}; border: 2px solid {sel}; padding: 1px 16px 1px 0; }}
QComboBox::drop-down {{ border: none; width: 18px; }}
QComboBox::down-arrow {{ image: none; }}
QComboBox QAbstractItemView {{ background: {card}; border: 1px solid {edge}; }}
"""


def line_sheet(look: Look) -> str:
    """The stylesheet of one line of words."""
    return _filled(_LINE, look)


def page_sheet(look: Look) -> str:
    """The stylesheet of a page of words."""
    return _filled(_PAGE, look)


def box_sheet(look: Look) -> str:
    """The stylesheet of a list of words to choose from."""
    return _filled(_BOX, look)


def _filled(sheet: str, look: Look) -> str:
    return sheet.format_map({name: look.hex(name) for name in _NEEDED})
