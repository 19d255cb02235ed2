"""Tables and files for the workshop: first as plain data, then as bytes."""
