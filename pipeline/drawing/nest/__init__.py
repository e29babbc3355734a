"""All sizes of a piece in one nest, as lines and marks: what several sizes share is found and drawn once.

The first package of drawing: it knows no other.
"""
