"""What to draw, as plain records worked out by cells; no window knows more of the car than this."""
