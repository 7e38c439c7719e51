"""Records that say what was found and where a number comes from."""
