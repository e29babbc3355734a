"""What a pattern is: frozen values with units in their names, no input or output."""
