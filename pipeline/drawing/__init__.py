"""From pieces to SVG: line styles, marks, labels and fonts."""
