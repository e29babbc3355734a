"""What the designer looks at before anything is sold."""
