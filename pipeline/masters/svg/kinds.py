"""Kinds of elements and attributes of SVG, by what the walk does with them."""

CONTAINERS = frozenset(("g", "a", "switch", "svg"))
CLIPS = frozenset(("clipPath", "mask"))
NOT_DRAWN = frozenset(("defs", "symbol", "marker", "pattern", "linearGradient", "radialGradient", "filter", "view"))
TEXT = frozenset(("text", "tspan", "textPath", "tref"))
IMAGES = frozenset(("image", "foreignObject"))
MOVING = frozenset(("animate", "animateTransform", "animateMotion", "animateColor", "set", "script", "discard"))
TRANSFORMS = ("transform", "gradientTransform", "patternTransform")
