"""Tables for buyers: cloth, cut list, strips, notions, sizes, pages."""
