"""Weight: what the car weighs and where, what its wheels and stands carry."""
