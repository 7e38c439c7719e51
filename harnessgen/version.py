"""The version of the program, by itself, so that what prints it does not import the package's interface."""

__version__ = "0.1.0"
