"""What the designer wrote, read into the model: the SVG reader, `pattern.toml`, and every refusal."""
