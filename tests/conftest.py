"""Properties are tried on the same examples in every run: what fails for one developer fails for all."""

from hypothesis import settings

settings.register_profile("steady", derandomize=True)
settings.load_profile("steady")
