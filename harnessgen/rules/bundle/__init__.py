"""Rules on bundles: room in coverings, bends, clips."""
