"""The tube frame on plain values: load paths by geometry, brackets, sections and weight."""
