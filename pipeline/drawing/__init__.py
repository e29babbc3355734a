"""From pieces to scenes: line styles, marks, labels and fonts.

What every package may use stands here and knows none of them. Of the packages each knows only those before it, in this
order: `nest`, `labels`, `piece`, `panels`, `pages`, `cloth`.
"""
