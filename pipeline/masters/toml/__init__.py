"""`pattern.toml` and the words that designers bring: what may be written, and the model's values of it."""
