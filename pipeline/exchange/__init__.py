"""The pattern for makers who cut by machine: every piece in every size as a block of a DXF file."""
