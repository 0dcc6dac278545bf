"""Random examples are judged by what they show, not by the clock."""

from hypothesis import settings

settings.register_profile("without deadline", deadline=None)
settings.load_profile("without deadline")
