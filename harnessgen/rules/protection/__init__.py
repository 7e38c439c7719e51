"""Rules on fuses."""
