"""What must be true of a pattern before anything leaves: a registry that knows no trade, and a file a subject."""
