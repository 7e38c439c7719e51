"""Rules on paths that should be there, and paths that should not."""
