"""From text to typed records that remember where every value stood."""
