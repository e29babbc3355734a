"""A piece as the press takes it: what is written on it, and its lines, marks and texts as drawings by size.

The third package of drawing: it puts together what `nest` and `labels` make.
"""
