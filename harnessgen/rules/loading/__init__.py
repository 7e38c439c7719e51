"""Rules on current and heat."""
