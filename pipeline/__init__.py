"""From a designer's master outlines to a complete, checked, versioned download."""
