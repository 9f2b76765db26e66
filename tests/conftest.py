"""What holds for all tests."""

from __future__ import annotations

from hypothesis import settings

# No test may depend on the speed of the machine, so no example has a deadline.
settings.register_profile("any machine", deadline=None)
settings.load_profile("any machine")
