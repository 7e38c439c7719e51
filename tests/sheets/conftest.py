"""Property tests of this folder judge results, never the time they took on a busy computer."""

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
