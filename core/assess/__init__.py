"""Cells that read the document and call the rooms: one wiring module a room."""
