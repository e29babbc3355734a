"""What a page tells beside the pattern, panel by panel: columns of text, squares to measure, map, keys.

The fourth package of drawing: it needs none of those before it, and `pages` says where each panel stands.
"""
