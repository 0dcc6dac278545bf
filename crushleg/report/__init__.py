"""What a check found, for people and for other programs."""
