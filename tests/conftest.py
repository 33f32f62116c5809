"""What all tests share."""

from hypothesis import settings

# A kernel compiles on its first call, which no deadline should count.
settings.register_profile("carrybook", deadline=None)
settings.load_profile("carrybook")
