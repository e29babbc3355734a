"""The booklet: what a buyer reads and looks at while sewing, made of the pattern's own values."""
