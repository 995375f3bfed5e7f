"""Engineering applied to records, keeping the cells that every figure came from."""
