"""What stands around the pattern: frame and joints, start page, large sheets, projector files, calibration.

The fifth package of drawing: it fills pages with `panels`, and knows of `piece` only on which ground a piece is shown.
"""
