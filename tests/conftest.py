"""Properties are tried on the same examples in every run, or on new ones with `--hypothesis-profile nightly`.

A steady example depends on its test alone. Hypothesis draws the starting seed from the test itself, but it also mixes
in constants that it finds in whatever modules happen to be loaded, so it would try others when another file is selected
or when any module of the pipeline is changed; a steady run does without these. A deadline would make a loaded machine a
failure.
"""

import pytest
from hypothesis import HealthCheck, settings
from hypothesis.internal.conjecture import providers

settings.register_profile("steady", derandomize=True, deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("nightly", deadline=None, print_blob=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")


def pytest_configure(config: pytest.Config) -> None:
    if (config.getoption("--hypothesis-profile") or "steady") == "steady":
        providers.HypothesisProvider._local_constants = providers.Constants()
