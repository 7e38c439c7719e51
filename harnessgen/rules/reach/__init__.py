"""Rules on length."""
