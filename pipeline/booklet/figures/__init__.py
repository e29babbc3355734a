"""Figures of a booklet: those that are drawn from the pattern, and the guard of those that a designer brings."""
