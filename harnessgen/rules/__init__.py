"""Rules: each a record, a check and a page."""
