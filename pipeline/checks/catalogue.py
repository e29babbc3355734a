"""The one registry that all subjects enter their checks in."""

from pipeline.checks.registry import Registry

CHECKS = Registry()

ON_BUILT_FILES = "built-"
"""How the ids of all checks of built files begin: only a build runs them."""
