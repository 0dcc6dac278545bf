"""A profile for long random campaigns, started by hand; what runs by itself is always the same."""

from __future__ import annotations

from hypothesis import settings

settings.register_profile("campaign", max_examples=3000, deadline=None, print_blob=True)
