"""The ledger: which bytes were sold as which version, and what has changed since.

`facts` says what a version is in values that outlast its files, `shapes` and `compare` hold two versions against each
other, `book` is the file `ledger.json`, `seal` what may be entered there.
"""
