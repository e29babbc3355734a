"""What whoever bought the version before is told: what was wrong, what to print again, how to mend what is cut.

`differences` are shapes old and new, `sentences` what is said of them, `sheet` the pages, `strips` what is taped on,
`letter` the text to buyers, `reprint` the changed pages by themselves.
"""
