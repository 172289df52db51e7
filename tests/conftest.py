"""Settings shared by all tests."""

from hypothesis import settings

# no test is timed: the first example may have to load a library
settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
