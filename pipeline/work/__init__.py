"""The work folder: what jobs made of what, so that a run builds on nothing that is not what the source says."""
