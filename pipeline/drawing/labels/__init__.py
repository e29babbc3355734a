"""Where texts find room on a nest: in lines, beside marks and places, in rows with leaders, as a block.

The second package of drawing: it knows `nest`, and is told by `piece` what to write.
"""
