"""One thin command a rule: read files, call one room, write files."""
