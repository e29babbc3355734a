"""From pieces to scenes: line styles, marks, labels and fonts."""
