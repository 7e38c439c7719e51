"""Parts by generic family and the standard that describes them; a design lays its own over the packaged ones."""
