"""Rules on what fills cavities."""
