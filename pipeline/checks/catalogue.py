"""The one registry that all subjects enter their checks in."""

from pipeline.checks.registry import Registry

CHECKS = Registry()
