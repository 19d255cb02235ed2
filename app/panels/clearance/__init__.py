"""The gaps of the engine and gearbox, and its way out."""
