"""What every kind of thing and every field of it is called on screen, as plain data."""
