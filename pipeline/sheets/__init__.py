"""Where pieces lie on paper: nesting the sizes, arranging the stacks, tiling, and the map of pages."""
