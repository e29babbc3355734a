"""SVG as it may be read: a guarded tree, exact curves in mm, and every refusal; it knows nothing of patterns."""
