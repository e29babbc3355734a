"""The way in: what drawings hold, written as a first `pattern.toml`; and whether this computer has what a run needs."""
