"""Settings for every test."""

from hypothesis import settings

# A busy machine must not fail a property: no time limit for a single example.
settings.register_profile("without deadline", deadline=None)
settings.load_profile("without deadline")
