"""What the builder wrote: every value typed, every value with its place in the file."""
