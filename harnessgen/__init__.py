"""From one declarative file to a wiring harness that is checked, drawn, cut and proved."""

__version__ = "0.1.0"
