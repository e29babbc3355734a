"""Lays on cloth as pictures, and pages of them.

The last package of drawing: it needs none of those before it.
"""
