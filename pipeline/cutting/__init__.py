"""From the seam line to the cut line: allowances, corners, folds, turned hems, notches, strips. Pure geometry."""
