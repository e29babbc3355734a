"""The one registry that all subjects enter their checks in."""

from pipeline.checks.registry import Registry

CHECKS = Registry()

ON_BUILT_FILES = "built-"
"""How the ids of all checks of built files begin: only a build runs them."""
ON_THE_WAY = ("archives", "cloth-lengths", "next-version")
"""What stages of a build tell that can be accepted: a check alone does not come to them."""
