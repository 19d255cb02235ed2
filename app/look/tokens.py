"""Colours by what they mean, for a light and a dark workshop.

The meaning colours keep the hues of the "muted" scheme of P. Tol, Colour Schemes, technical note
SRON/EPS/TN/09-002, made for colour-vision deficiency; their lightness was moved per theme until
text on its grounds reaches the contrast that WCAG 2.x asks for at level AA.
"""

from typing import Literal, get_args

ColourName = Literal[
    # Text and lines.
    "ink",
    "ink2",
    "ink3",
    "edge",
    "rule",
    # Verdicts.
    "fine",
    "tight",
    "tight_mark",
    "tight_bars",
    "no",
    "unknown",
    # What is in hand and under the pointer.
    "sel",
    "on_sel",
    "hover",
    # Sides and sources.
    "left",
    "right",
    "measured",
    "guessed",
    # Grounds.
    "page",
    "panel",
    "card",
    "well",
    "table_near",
    "table_far",
    "lath",
    "lath_edge",
    "wash_fine",
    "wash_tight",
    "wash_no",
    "wash_unknown",
    "wash_selected",
    # What stands on the table.
    "tube",
    "hoop",
    "link",
    "bought",
    "bought_edge",
    "shaft",
    "upright",
    "tyre",
    "soft",
    "shadow",
    # Steel by how far it is made.
    "steel_planned",
    "steel_cut",
    "steel_bent",
    "steel_tacked",
    "steel_welded",
    "steel_spoilt",
]

NAMES: tuple[ColourName, ...] = get_args(ColourName)

_BOTH: dict[ColourName, tuple[str, str]] = {
    "ink": ("#1E2328", "#ECE8DE"),
    "ink2": ("#4E555C", "#B7BAB5"),
    "ink3": ("#62686E", "#969C9B"),
    "edge": ("#7F8387", "#6E7980"),
    "rule": ("#D2D0C8", "#2D3840"),
    "fine": ("#0F6F30", "#5FBF82"),
    "tight": ("#75600F", "#DDCC77"),
    "tight_mark": ("#DDCC77", "#DDCC77"),
    "tight_bars": ("#1E2328", "#1E2328"),
    "no": ("#882255", "#F59DAE"),
    "unknown": ("#5B6168", "#8C9CAE"),
    "sel": ("#332288", "#B4AEF8"),
    "on_sel": ("#FFFFFF", "#10161A"),
    "hover": ("#6A5FB0", "#8F89D6"),
    "left": ("#19705F", "#5CC5B4"),
    "right": ("#686810", "#C6C662"),
    "measured": ("#1F7299", "#A3D9F4"),
    "guessed": ("#7D2A70", "#CC82C0"),
    "page": ("#E9E8E3", "#10161A"),
    "panel": ("#F7F6F2", "#182026"),
    "card": ("#FFFFFF", "#202A31"),
    "well": ("#EFEEE9", "#131A1F"),
    "table_near": ("#E1E2DE", "#1B262D"),
    "table_far": ("#F1F0EC", "#11181C"),
    "lath": ("#E3D8BE", "#3B3A33"),
    "lath_edge": ("#9C8F70", "#8A8266"),
    "wash_fine": ("#E1EFE4", "#1D3328"),
    "wash_tight": ("#F6F0D6", "#353220"),
    "wash_no": ("#F6E3EB", "#3E2430"),
    "wash_unknown": ("#E6E7E6", "#27313A"),
    "wash_selected": ("#E7E5F4", "#2C2D4A"),
    "tube": ("#A3ABB0", "#8C99A1"),
    "hoop": ("#8A949B", "#A9B5BB"),
    "link": ("#6F7D86", "#9DAFBA"),
    "bought": ("#DCD0B6", "#8C8169"),
    "bought_edge": ("#5C5340", "#E9DDBF"),
    "shaft": ("#D3C6A8", "#8B8672"),
    "upright": ("#AFA892", "#928B73"),
    "tyre": ("#75797C", "#3A454C"),
    "soft": ("#AEB2B4", "#76828A"),
    "shadow": ("#D2D3CE", "#11191E"),
    "steel_planned": ("#A3ABB0", "#8C99A1"),
    "steel_cut": ("#C2C8CA", "#505C63"),
    "steel_bent": ("#C2C8CA", "#505C63"),
    "steel_tacked": ("#A3ABB0", "#87949C"),
    "steel_welded": ("#6F7A82", "#C3CDD2"),
    "steel_spoilt": ("#B9A0AC", "#8A5A68"),
}

LIGHT: dict[ColourName, str] = {name: light for name, (light, _) in _BOTH.items()}
DARK: dict[ColourName, str] = {name: dark for name, (_, dark) in _BOTH.items()}

HOVER_MS = 80
PANEL_MS = 140
CAMERA_MS = 260
"""How long things take to change, in milliseconds; a drag follows the hand without any of it."""
